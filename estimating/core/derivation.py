"""How any figure of an estimate was reached, down to schedule lines and table rows; computed when asked.

Names are steps joined with dots, safe in a URL; a step made of a code is spelt as figures.figure.word says.
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

Every step's value follows from its inputs by its rule alone: the function registered under that name, with its words,
in estimating.core.figures.rules. Inputs with the same `term` are factors of one product, or one row of a table.
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
