"""The shape of a line from its dimensions and its shape words; what words and dimensions do not settle is asked.

dimensions alone (a diameter, a springline) > a word of a shape's own column, or one that they agree with > a question
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from estimating.core.irrational import sqrt
from estimating.intake.doubts import Doubt
from estimating.intake.draft import Draft
from estimating.intake.line_answers import put_fields, read_answer, why_not
from estimating.intake.scope_words import Finding
from rates.core.fraction import Fraction
from rates.core.problems import Unreadable
from rates.core.units import read_length

ARCHES = frozenset({"half_round_top", "arch", "segmental_top"})
PLAIN = ("rectangle",)
HALF_ROUNDS = HALF_ROUND_OVERALL, HALF_ROUND_TO_SPRING = "half_round_height_overall", "half_round_height_to_springline"
SEGMENTS = SEGMENT_OVERALL, SEGMENT_TO_SPRING = "segmental_height_overall", "segmental_height_to_springline"
CHOICES = (
    *HALF_ROUNDS,
    "ellipse",
    "octagon",
    "triangle",
)  # of any line; others where its words name them, or by its line
NAMED = {  # shape words -> the choices that stand first
    "half_round_top": HALF_ROUNDS, "arch": (*HALF_ROUNDS, *SEGMENTS), "segmental_top": SEGMENTS, "round": ("round",),
    "ellipse": ("ellipse",), "octagon": ("octagon",), "hexagon": ("hexagon",), "triangle": ("triangle",),
}  # fmt: skip


def nm_of(values: dict[str, Any], name: str) -> Fraction | None:
    """A length of a line; None where it gives none that can be read yet."""
    try:
        return read_length(str(values[name])).nm if name in values else None
    except Unreadable:
        return None


def settle_dimensions(draft: Draft) -> None:
    """The shape that dimensions alone tell: a pipe or a round opening of one diameter, an arch of its springline."""
    values = draft.values
    if "shape" in values:
        return
    if "diameter" in values and not ("width" in values or "height" in values):
        values["shape"] = "pipe" if values.get("kind") == "pipe" else "round"
        return
    spring, rise, width, height = (nm_of(values, name) for name in ("springline", "rise", "width", "height"))
    if spring is None or width is None:
        return
    if rise is None and height is not None and height > spring:
        rise = height - spring
        if 2 * rise > width:
            return  # no half circle and no flatter arch: asked about as it stands
        draft.written.setdefault("rise", f"{values['height']} less {values['springline']}")
        values["rise"] = mm(rise)
    if rise is None or 2 * rise > width:
        return
    if height is not None and height != spring + rise:
        return  # three figures that disagree are asked about as they stand
    if 2 * rise == width:
        values["shape"] = "half_round_top"
        values.pop("rise", None)
    else:
        values["shape"] = "segmental_top"
    if values.pop("height", None) is not None:
        draft.written.setdefault("springline", str(values["springline"]))


def settle_words(draft: Draft, findings: Sequence[Finding], cell: str, text: str, own: bool) -> Doubt | None:
    """Puts in the shape that words of a column tell with the dimensions; else the question that it leaves."""
    topics = list(dict.fromkeys(finding.topic for finding in findings))
    values = draft.values
    sure = own and len(topics) == 1 and not any(finding.doubtful for finding in findings)
    topic = topics[0] if len(topics) == 1 else ""
    if values.get("shape") in ("half_round_top", "segmental_top"):
        return None if set(topics) <= ARCHES else doubt_of(draft, topics, cell, text)
    if topic == "round" and values.get("shape") in ("round", "pipe"):
        return None
    if topic == "polygon" and "points" in values:
        values["shape"] = "polygon"
        return None
    sides = {"width", "height"} <= values.keys() and "diameter" not in values
    if topic == "rectangle" and (sure or (sides and not any(finding.doubtful for finding in findings))):
        values["shape"] = "rectangle"
        return None
    width, height = nm_of(values, "width"), nm_of(values, "height")
    if sure and topic == "round" and width is not None and (width == height or height is None):
        put_fields(draft, {"shape": "round", "diameter": values["width"]})
        return None
    if sure and topic == "ellipse" and width is not None and height is not None:
        values["shape"] = "ellipse"
        return None
    if sure and topic == "segmental_top" and "rise" in values and height is not None:
        values["shape"] = "segmental_top"
        return None
    return doubt_of(draft, topics, cell, text)


def doubt_of(draft: Draft, topics: Sequence[str], cell: str, text: str) -> Doubt:
    """The question that shape words leave, with the shapes that the line can be of; those that words name first."""
    named = [choice for topic in topics for choice in NAMED.get(topic, ())]
    if (
        draft.radius
        and nm_of(draft.values, "width") == nm_of(draft.values, "height") == 2 * read_length(draft.radius).nm
    ):
        named.insert(0, "round")
    fitting = [choice for choice in dict.fromkeys((*named, *CHOICES)) if fits(draft.values, choice, draft.radius)]
    options: dict[str, dict[str, Any]] = {choice: {} for choice in (*fitting, *PLAIN)}
    detail = f"radius {draft.radius}" if draft.radius else ""
    return Doubt("shape_words", draft, cell, text, (), options, detail, field="shape", parts=(draft.radius,))


def fits(values: dict[str, Any], choice: str, radius: str) -> bool:
    """Whether the dimensions of a line can be of a shape; a line whose sides are not read yet may be of most."""
    width, height, spring = (nm_of(values, name) for name in ("width", "height", "springline"))
    rise = rise_of(values, radius)
    if choice in SEGMENTS:
        over = height if choice == SEGMENT_OVERALL else spring or height
        return None not in (rise, width, over) and 2 * rise < width and (rise < over or choice == SEGMENT_TO_SPRING)  # type: ignore[operator]
    if choice in HALF_ROUNDS:
        flatter = rise is not None and width is not None and abs(2 * rise - width) > 2
        low = choice == HALF_ROUND_OVERALL and None not in (width, height) and 2 * height < width  # type: ignore[operator]
        return not flatter and not low and not (choice == HALF_ROUND_OVERALL and spring is not None and height is None)
    if choice == "round":
        return "diameter" in values or width is None or height is None or width == height
    return choice != "hexagon" or width != height


def rise_of(values: dict[str, Any], radius: str) -> Fraction | None:
    """The rise of an arch over its springline: its own, or of its radius R over a width w, R - √(R² - w²/4).

    To the nanometre, within half of one; None without either, and where the radius is less than half the width.
    """
    if "rise" in values or not radius:
        return nm_of(values, "rise")
    over, width = read_length(radius).nm, nm_of(values, "width")
    if width is None or 2 * over < width:
        return None
    return nearest(over - sqrt(over * over - width * width / 4))


def nearest(nm: Fraction) -> Fraction:
    """A length rounded to the nanometre."""
    return Fraction((2 * nm.numerator + nm.denominator) // (2 * nm.denominator))


def put_shape(draft: Draft, answer: str, doubt: Doubt) -> str:
    """Puts a shape that was answered into a line; why it can't be taken, blank where it can."""
    values = draft.values
    if answer == "rectangle":
        put_fields(draft, {"shape": "rectangle"})
        return ""
    if answer in HALF_ROUNDS:
        height = (
            values.get("height") if answer == HALF_ROUND_OVERALL else values.get("springline") or values.get("height")
        )
        if height is None:
            return "the line gives no height"
        named = "height" if answer == HALF_ROUND_OVERALL else "springline"
        return put_checked(draft, {"shape": "half_round_top", named: height})
    if answer in SEGMENTS:
        return put_segment(draft, answer, doubt.parts[0] if doubt.parts else "")
    if answer in ("round", "ellipse"):
        width, height = nm_of(values, "width"), nm_of(values, "height")
        if answer == "round" and "diameter" not in values and width != height:
            return "width and height differ; give the diameter: shape=round, diameter=36 in"
        return put_checked(
            draft,
            {"shape": answer}
            | (
                {"diameter": values["width"]}
                if answer == "round" and "width" in values and "diameter" not in values
                else {}
            ),
        )
    if answer in POLYGONS:
        width, height = nm_of(values, "width"), nm_of(values, "height")
        if width is None or height is None:
            return "the line gives no width and height"
        corners = POLYGONS[answer](width, height)
        return put_checked(draft, {"shape": "polygon", "points": [[mm(x), mm(y)] for x, y in corners]})
    fields = read_answer(answer, doubt.written)
    if isinstance(fields, str):
        return fields
    return put_checked(draft, fields)


def put_segment(draft: Draft, answer: str, radius: str) -> str:
    """An arch of the line's rise, or of a radius: its height is overall, or to the springline."""
    values = draft.values
    rise, height, spring = rise_of(values, radius), nm_of(values, "height"), nm_of(values, "springline")
    over = height if answer == SEGMENT_OVERALL else spring or height
    if rise is None or over is None:
        return "the line gives no rise, radius or height; give shape=segmental_top, springline=48 in, rise=6 in"
    start = over - rise if answer == SEGMENT_OVERALL else over
    return put_checked(draft, {"shape": "segmental_top", "springline": mm(start), "rise": mm(rise)})


def put_checked(draft: Draft, fields: dict[str, Any]) -> str:
    """Puts fields in where the line can be read with them."""
    why = why_not(draft.values, fields)
    if not why:
        put_fields(draft, fields)
    return why


Corners = tuple[tuple[Fraction, Fraction], ...]


def triangle(width: Fraction, height: Fraction) -> Corners:
    """An isosceles triangle of a width and height, on its base."""
    zero = Fraction(0)
    return (zero, zero), (width, zero), (width / 2, height)


def hexagon(width: Fraction, height: Fraction) -> Corners:
    """A hexagon in a box, its points where the box is longer: a regular one where the sides are as 2 to √3."""
    x, y, zero = width, height, Fraction(0)
    if width > height:
        return (x / 4, zero), (3 * x / 4, zero), (x, y / 2), (3 * x / 4, y), (x / 4, y), (zero, y / 2)
    return (x / 2, zero), (x, y / 4), (x, 3 * y / 4), (x / 2, y), (zero, 3 * y / 4), (zero, y / 4)


def octagon(width: Fraction, height: Fraction) -> Corners:
    """An octagon in a box, regular in a square: a corner takes off 1 - 1/√2 of each side, within half a nanometre."""
    cut_x, cut_y = (nearest(side * (1 - sqrt(Fraction(1, 2)))) for side in (width, height))
    zero = Fraction(0)
    return (
        (cut_x, zero), (width - cut_x, zero), (width, cut_y), (width, height - cut_y),
        (width - cut_x, height), (cut_x, height), (zero, height - cut_y), (zero, cut_y),
    )  # fmt: skip


POLYGONS: dict[str, Callable[[Fraction, Fraction], Corners]] = {
    "octagon": octagon,
    "hexagon": hexagon,
    "triangle": triangle,
}


def mm(nm: Fraction) -> str:
    """A length in millimetres, exact to the nanometre."""
    whole, rest = divmod(int(nm), 10**6)
    return f"{whole}.{rest:06d} mm" if rest else f"{whole} mm"
