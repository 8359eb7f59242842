"""How a kind's outline gives its perimeter, corner factor, width and treated area."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from estimating.core import shapes
from estimating.core.cuts import sill_depth_nm
from estimating.core.derivations.nodes import Book, Input, Node, parameter
from estimating.core.derivations.printing import AREA, DEGREES, LENGTH, NUMBER, RUN, TEXT
from estimating.core.derivations.scope import PartScope
from estimating.core.derivations.work import line_input
from estimating.core.shapes import SIDES
from rates.core.fraction import Fraction

RUN_WORDS = {
    "sill": "the width",
    "jambs": "the height, of an arch the height of its springline",
    "head": "the width",
    "arc": "half round: π × width ÷ 2; segmental: R = (w²/4 + r²) ÷ 2r, θ = 2 asin(w ÷ 2R), arc Rθ",
    "collar": "circle: π × diameter; ellipse: π (3(a + b) − √((3a + b)(a + 3b))) of the semi-axes (Ramanujan)",
    "side": "√(Δx² + Δy²) between the side's two points",
}
CORNER_WORDS = "Σ tan(turn ÷ 2) over the treated corners + half the angle through which curved parts turn"
DIMENSIONS = ("width", "height", "springline", "rise", "diameter")


def dimension_inputs(scope: PartScope, n: int) -> list[Input]:
    """The sizes of the outline as the line gives them; an arch's springline may follow from its overall height."""
    shape = scope.part.works[n].kind.shape
    found = [
        line_input(scope, n, field, field, nm, LENGTH)
        for field in DIMENSIONS
        if isinstance(nm := getattr(shape, field, None), Fraction)
    ]
    for k, point in enumerate(getattr(shape, "points", ())):
        for axis, nm in enumerate(point):
            found.append(line_input(scope, n, f"{'xy'[axis]}{k}", f"points/{k}/{axis}", nm, LENGTH, k))
    return found


def outline_inputs(scope: PartScope, n: int) -> list[Input]:
    """Shape, treated sides and sizes."""
    kind = scope.part.works[n].kind
    sides = " ".join(side for side in SIDES if side in kind.sides)
    return [
        line_input(scope, n, "shape", "shape", kind.shape.name, TEXT),
        line_input(scope, n, "sides", "sides", sides, TEXT),
        *dimension_inputs(scope, n),
    ]


def depth_input(scope: PartScope, n: int, term: int | None = None, name: str = "treated depth") -> Input:
    """The return depth: of the line, else of the request; along a pipe its own lap, else the table's."""
    kind = scope.part.works[n].kind
    nm = scope.part.works[n].takeoff.return_depth_nm
    if isinstance(kind.shape, shapes.Pipe):
        if kind.shape.lap_on_pipe is not None:
            return line_input(scope, n, "lap on the pipe", "lap_on_pipe", nm, LENGTH, term)
        return scope.production("lap on the pipe", "geometry/lap_on_pipe", nm, LENGTH, term)
    if scope.request.schedule.kinds[n].depth_nm is not None:
        return line_input(scope, n, name, "treated_depth", nm, LENGTH, term)
    return scope.asked(name, "/treated_depth", nm, LENGTH, term)


def face_lap(scope: PartScope, term: int | None = None) -> Input:
    """The face lap of the production table."""
    return scope.production("face lap", "geometry/face_lap", scope.card.production.geometry.face_lap_nm, LENGTH, term)


def run_node(scope: PartScope, n: int, j: int) -> Node:
    """The length of one stretch of the outline."""
    run = scope.part.works[n].takeoff.measure.runs[j]

    def inputs() -> list[Input]:
        place = [parameter("side", j)] if run.name == "side" else []
        return [parameter("stretch", run.name), *place, *outline_inputs(scope, n)]

    return Node(f"Length of the {run.name}", RUN_WORDS[run.name], "shape_run", run.length_nm, LENGTH, inputs)


def perimeter_node(scope: PartScope, n: int) -> Node:
    """The perimeter treated."""
    measure = scope.part.works[n].takeoff.measure

    def inputs() -> list[Input]:
        found = []
        for j, run in enumerate(measure.runs):
            found += [scope.ref(run.name, f"kind.{n}.run.{j}", j), parameter("how many", run.count, term=j)]
        return found

    words = "Σ length × how many, over the treated stretches"
    return Node("Perimeter treated", words, "sum_of_products", measure.perimeter_nm, RUN, inputs)


def quantity_node(scope: PartScope, n: int) -> Node:
    """How many openings of the kind are priced in the part."""

    def inputs() -> Sequence[Input]:
        lines = scope.request.schedule.lines
        return [scope.lined(i, f"line {i + 1}", "quantity", lines[i].quantity, NUMBER) for i in scope.worked[n]]

    words = "Σ quantity of the priced lines of this kind"
    return Node("Openings of this kind", words, "sum", scope.part.works[n].quantity, NUMBER, inputs)


def treated_area_node(scope: PartScope, n: int) -> Node:
    """A = P(d + f) + f²K, and what a sloped sill's return adds."""
    takeoff = scope.part.works[n].takeoff

    def inputs() -> list[Input]:
        perimeter = f"kind.{n}.perimeter"
        found = [scope.ref("perimeter", perimeter, 0), depth_input(scope, n, 0)]
        found += [scope.ref("perimeter", perimeter, 1), face_lap(scope, 1)]
        found += [face_lap(scope, 2), face_lap(scope, 2), scope.ref("corner factor", f"kind.{n}.corner_factor", 2)]
        extra = [scope.ref("of the sloped sill", f"kind.{n}.sill_extra", 3)] if takeoff.sill_extra_nm2 else []
        return found + extra

    words = "P × d + P × f + f² × K: perimeter, return depth, face lap, corner factor; a sloped sill's return added"
    return Node("Treated area", words, "sum_of_products", takeoff.treated_area_nm2, AREA, inputs)


def sloped_sill_book(scope: PartScope, n: int) -> Book:
    """The return of a sloped sill, where there is one."""
    work = scope.part.works[n]
    kind, takeoff, name = work.kind, work.takeoff, f"kind.{n}"
    book: Book = {}
    if kind.sill is not None and kind.sill.kind == "sloped":
        angle, depth = kind.sill.angle_degrees, sill_depth_nm(kind, scope.card.production.geometry)
        slope = partial(line_input, scope, n, "slope", "sill/angle_degrees", angle, DEGREES)
        book[f"{name}.sill_depth"] = lambda: Node(
            "Return at the sloped sill",
            "treated depth ÷ cos(slope)",
            "over_cosine",
            depth,
            LENGTH,
            lambda: [depth_input(scope, n), slope()],
        )
        if takeoff.sill_extra_nm2:
            book[f"{name}.sill_deeper"] = lambda: Node(
                "Return that the slope adds",
                "return at the sill − treated depth",
                "difference",
                depth - takeoff.return_depth_nm,
                LENGTH,
                lambda: [scope.ref("return at the sill", f"{name}.sill_depth"), depth_input(scope, n)],
            )
            book[f"{name}.sill_extra"] = lambda: Node(
                "Area that the slope adds",
                "width × return that the slope adds",
                "product",
                takeoff.sill_extra_nm2,
                AREA,
                lambda: [
                    scope.ref("width", f"{name}.width"),
                    scope.ref("return that the slope adds", f"{name}.sill_deeper"),
                ],
            )
    return book


def outline_node(scope: PartScope, n: int, title: str, words: str, rule: str, value: Fraction) -> Node:
    """A figure that follows from the outline by a rule of its own."""
    unit = LENGTH if rule == "shape_width" else NUMBER
    return Node(title, words, rule, value, unit, lambda: outline_inputs(scope, n))


def geometry_book(scope: PartScope, n: int) -> Book:
    """Figures of the outline of a kind."""
    work = scope.part.works[n]
    measure, name = work.takeoff.measure, f"kind.{n}"
    outline = partial(outline_node, scope, n)
    book: Book = {
        f"{name}.quantity": partial(quantity_node, scope, n),
        f"{name}.width": partial(
            outline,
            "Overall width",
            "the width, the diameter, or from the leftmost point to the rightmost",
            "shape_width",
            work.kind.shape.width_nm,
        ),
        f"{name}.perimeter": partial(perimeter_node, scope, n),
        f"{name}.corner_factor": partial(
            outline, "Corner factor K", CORNER_WORDS, "shape_corner_factor", measure.corner_factor
        ),
        f"{name}.corners": partial(
            outline,
            "Corners that take a diagonal",
            "rectangle: where jambs meet sill or head; arch: where jambs or arc "
            "meet the sill; polygon and outline: every corner; else none",
            "shape_corners",
            Fraction(measure.corners),
        ),
        f"{name}.treated_area": partial(treated_area_node, scope, n),
    }
    book |= {f"{name}.run.{j}": partial(run_node, scope, n, j) for j in range(len(measure.runs))}
    return book | sloped_sill_book(scope, n)
