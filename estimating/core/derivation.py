"""How any figure of an estimate was reached, down to schedule lines and table rows; computed when asked.

Names are steps joined with dots, safe in a URL; a step made of a code is spelt as derivations.scope.word says.
<n> is a kind's place in the schedule, <i> a place in a list of the answer, all from 0.

    price  cost  direct_cost  openings  perimeter  treated_area  price_per_opening  markup_percent  margin_percent
    build_up.<i>[.base|.exact]  build_up.<i>.item.<k>[.exact] (sales tax item by item)
    build_up.<step>  bond.base  bond.price  cost_code.<code>
    mark.<i>.price  .quantity  .touch_minutes  .hours  .weight  .unit_price[.exact]  .residual
    line.<i>.price  .quantity  .touch_minutes  .weight
    (each share of a total also has .floor  .remainder  .extra  .rank)    marks.weight  marks.missing
    per_area.price_per_area  .stated_price  .difference  .fixed_price  .price_each  .break_even_openings ...

and of each part (where there are several, each of these stands behind `part.<p>.`, and hours.*, crew_days,
touch_minutes and opening_equivalents without it are the sums):

    hours.standard  .touch  .idle  .setup  .paid    touch_minutes  base_minutes  idle_minutes  zone.<z>.idle_minutes
    setup.mobilisations  .elevations  .storey_changes    opening_equivalents  learning_factor  learning.start
    hour_cost  labour_cost[.exact]  labour.<code>.rate  labour.<code>.burden.<i>[.base ...]
    labour.<code>.overtime[.premium|.base|.extra|.hours] (where a week is stated)    crew.workers  .shares  .money
    crew_days[.exact]  taxable_materials  pool.minutes  pool.material.<code>  pool.equipment.<code> ...
    kind.<n>.quantity  .perimeter  .corner_factor  .treated_area  .base_minutes  .touch_minutes  .use.<code>  .weight
    kind.<n>.piece.<j>[.width|.strips|.count]  kind.<n>.stock  kind.<n>.stock.<code>.cost  kind.<n>.minutes.<addend> ...
    joints.*: as of a kind
    material.<code>.net  .gross  .needed  .pack.<i>  .left_over  .cost  .amount  .unit_price ...
    equipment.<code>.days  .units  .period.<i>  .rental  .deliveries  .cost  .amount ...

Wages can be read from labour.*, crew.*, hour_cost and labour_cost, and from steps that carry them as inputs.

Every step's value follows from its inputs by its rule alone. Inputs with the same `term` are factors of one product,
or one row of a table. The rules:

    given  the input as it is                        zero, one  0 or 1 for the reason given
    sum  product  difference  maximum  minimum       quotient  the first ÷ each of the others
    proportion  first × second ÷ third               sum_of_products  Σ over terms of the product of a term
    shortfall  first − second, at least 0            residual  first − second × third
    ceiling  rounded up                              ceiling_quotient  first ÷ second, rounded up
    round  to decimal places, half away from zero (half_up) or to even (half_even)
    round_up  what is missing from the first to the next multiple of the second
    percent  first × second ÷ 100                    margin  first × g ÷ (1 − g), g = second ÷ 100
    markup_percent_of_other, margin_percent_of_other  100 m ÷ (100 − m), 100 m ÷ (100 + m)
    waste_added, waste_lost  1 + p ÷ 100, 1 ÷ (1 − p ÷ 100)
    lookup  the second, whose field ends in the first          chosen  the third, if the first two agree
    highest_passed  the factor of the highest term that the first strictly passes
    pair  the factor, where two or more work, and the width (if given) reaches the last
    floor_share, share_remainder  total × weight ÷ all weights in units of the last decimal place: floored, and the rest
    missing_units  units in the total − Σ floored shares      rank  how many of the remainders are larger than that at
        `place`, or equal and earlier      extra_unit  one unit of the last decimal place if the second < the first
    least_cost  the name of the cheapest, ties to the earlier
    lowest_unit_price  the least price ÷ size among the terms
    least_cost_packs, least_cost_count, left_over  of the cheapest whole packs that cover the first: cost, count at
        `place`, what they hold over it; ties: least left over, then fewest packs, then more of the earlier pack
    price_with_bond_and_tax  X = first + tiered premium of X + second % of X       tiered  premium of the first by tiers
    shape_run, shape_corner_factor, shape_corners, shape_width, over_cosine, sheet_joints, strip_count, extra_strips,
    diagonal_length, diagonal_width, learning_<model>, count_distinct, storey_changes, idle: as the formula says
"""

from __future__ import annotations

from collections.abc import Iterator

from estimating.core.derivations.nodes import node_document
from estimating.core.derivations.register import Register
from estimating.core.estimate import Estimate


def nested(register: Register, figure: str, depth: int) -> dict[str, object]:
    """The figure's step, and in its inputs those of the next `depth` − 1 levels, each figure once, where nearest."""
    units, currency = register.estimate.request.units, register.estimate.till.currency
    root = node_document(figure, register.node(figure), units, currency)
    level, seen = [root], {figure}
    for _ in range(depth - 1):
        below: list[dict[str, object]] = []
        for document in level:
            inputs = document["inputs"]
            for given in inputs if isinstance(inputs, list) else []:
                name = given.get("figure")
                if name is not None and name not in seen:
                    seen.add(name)
                    given["node"] = node_document(name, register.node(name), units, currency)
                    below.append(given["node"])
        level = below
        if not level:
            break
    return root


def derive(estimate: Estimate, figure: str, depth: int = 1) -> dict[str, object]:
    """How one figure was reached: figure, title, formula, rule, value, unit, printed, inputs.

    `value` is exact in `unit`: decimal where it terminates, else n/d; words where the unit is "text". `printed` is as
    the answer prints it. Each input has name, value, unit, printed and where it comes from: `figure`, or `source` (a
    table row with its edition and layer, or a pointer in the request, with the mark of a schedule line), or neither
    for a parameter of the rule.
    With a depth above 1 inputs carry their own steps in `node`. KeyError for a figure that the estimate does not have.
    """
    return nested(Register(estimate), figure, depth)


def figures(estimate: Estimate) -> Iterator[str]:
    """The name of every figure that the estimate has, those of the job first, then each part's."""
    return Register(estimate).names()
