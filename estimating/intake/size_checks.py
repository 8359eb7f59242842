"""Doubts about sizes: one mark of two, width and height the wrong way round, sizes that no likely opening has."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from estimating.core.shapes import Rectangle, Shape
from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE
from estimating.intake.cells import read_cell_length, read_cell_size
from estimating.intake.checks import LEAST, MOST, Context, Read, sides_of
from estimating.intake.draft import Draft
from estimating.intake.questions import Asked
from estimating.intake.said import Said, joined, size_said
from rates.core.fraction import Fraction
from rates.core.length_styles import print_length
from rates.core.units import LENGTH_NM, read_length

FAR_OUT = "any likely opening's"
INCH = LENGTH_NM["in"]
LEAST_PIPE = INCH * 405 // 1000  # NPS 1/8 (ASME B36.10M)
LIKELY = 8 * INCH, 240 * INCH  # sides that a unit is offered for
UNITS = ("mm", "cm", "in", "m", "ft")
Side = tuple[str, Fraction, str]  # name, length, whose band it is outside of
_ONE_NUMBER = re.compile(r"([0-9]{1,6}(?:\.[0-9]{1,6})?)\s*(?:mm|cm|m|in|ft|\"|')", re.ASCII)
TALL = 72 * LENGTH_NM["in"]  # a door is hardly lower (common practice, no source)


def check_two_sizes(context: Context) -> dict[int, int | str]:
    """One mark has one size; line -> the line whose size it gets, or what is added to its mark."""
    sizes: dict[str, dict[int, list[Read]]] = {}
    for read in context.lines:
        if read.kind is not None:
            sizes.setdefault(read.line.mark_key, {}).setdefault(read.shape, []).append(read)
    changed: dict[int, int | str] = {}
    for found in sizes.values():
        if len(found) < 2:
            continue
        names = name_sizes(context, list(found.values()))
        reads = [group[0] for group in found.values()]
        shapes = [read.kind.shape for read in reads if read.kind is not None]
        turned = any(is_turned(a, b) for a in shapes for b in shapes)
        hint = " (width and height look swapped)" if turned else ""
        start, end = f"{reads[0].line.mark} has {len(found)} sizes: ", f"{hint}. Which is right?"
        said = [size_said(shape) for shape in shapes]
        answer = context.asker.ask(
            "mark_of_two_sizes", BLOCKS_COSTING, f"{start}{', '.join(names)}{end}",
            about=(reads[0].line.mark_key, *sorted(names)),
            choices=(*names, "all_right"), cells=[context.place(read.index, "width") for read in reads],
            lines=[read.index for group in found.values() for read in group],
            said=(start, *joined(said, ", "), end), choices_said=[*said, ("all_right",)],
        )  # fmt: skip
        if answer == "all_right":
            changed |= {read.index: name for name, group in names.items() for read in group}
        elif answer:
            right = names[answer][0].index
            changed |= {read.index: right for group in names.values() for read in group if read.index != right}
    return changed


def name_sizes(context: Context, groups: Sequence[list[Read]]) -> dict[str, list[Read]]:
    """The groups of lines by the size that each shows; exact in millimetres where two would show alike."""
    names = {context.size(group[0]): group for group in groups}
    if len(names) == len(groups):
        return names
    exact = {}
    for place, group in enumerate(groups, 1):
        sides = sides_of(group[0].kind.shape) if group[0].kind else ()
        told = " x ".join(print_length(nm, "mm") for _, nm in sides) or f"{context.size(group[0])} ({place})"
        exact[told] = group
    return exact


def is_turned(a: Shape, b: Shape) -> bool:
    """Whether one size is the other with width and height swapped."""
    return (
        isinstance(a, Rectangle) and isinstance(b, Rectangle) and a != b
        and (a.width, a.height) == (b.height, b.width)
    )  # fmt: skip


def check_bands(context: Context) -> dict[int, str]:
    """Sizes that no likely opening has, and those outside the company's own band: one question each; the answers.

    They are as_read, set_aside, or the length or size that is right instead. Where sides are so far out that their unit
    must be wrong, the price waits, and the units that make them likely are choices.
    """
    outside = {}
    for read in context.lines:
        if read.kind is not None and (key := (read.shape, read.kind.kind)) not in outside:
            outside[key] = outside_band(read.kind.shape, context.band, read.kind.kind == "pipe")
    groups: dict[tuple[str, tuple[str, ...]], dict[int, tuple[Read, list[Side]]]] = {}
    for read in context.lines:
        sides = outside[read.shape, read.kind.kind] if read.kind is not None else []
        for whose in dict.fromkeys(side[2] for side in sides):
            units = other_units(context.drafts[read.index].values) if whose == FAR_OUT else ()
            some = [side for side in sides if side[2] == whose]
            groups.setdefault((whose, units), {})[read.index] = (read, some)
    answers: dict[int, str] = {}
    for (whose, units), reads in sorted(groups.items()):
        lines = [context.asked(index, sides[0][0], [whose]) for index, (_, sides) in reads.items()]
        said = context.asker.ask_lines(
            "size_out_of_band", BLOCKS_COSTING if whose == FAR_OUT else BLOCKS_ISSUE, lines,
            lambda lines, reads=reads: band_said(lines, reads),  # type: ignore[misc]
            choices=(*units, "as_read", "set_aside"), open_answer="a size such as 3'-0\" x 6'-8\"", check=check_size,
            show=context.show,
        )  # fmt: skip
        answers |= {
            i: in_unit(context.drafts[i].values, answer) if answer in units else answer for i, answer in said.items()
        }
    return answers


def sizes_written(values: Mapping[str, Any]) -> dict[str, str]:
    """The dimensions of a line that one number and a unit give -> the number; none where any is written otherwise."""
    names = [name for name in ("width", "height", "diameter") if name in values]
    found = {name: match[1] for name in names if (match := _ONE_NUMBER.fullmatch(str(values[name]).strip()))}
    return found if len(found) == len(names) else {}


def other_units(values: Mapping[str, Any]) -> tuple[str, ...]:
    """as_mm and the like: the units in which the numbers of a line would be a likely size."""
    numbers = sizes_written(values)
    units = [
        unit
        for unit in UNITS
        if numbers and all(LIKELY[0] <= read_length(f"{n} {unit}").nm <= LIKELY[1] for n in numbers.values())
    ]
    return tuple(f"as_{unit}" for unit in units)


def in_unit(values: Mapping[str, Any], choice: str) -> str:
    """The size of a line with its numbers in the unit of a choice."""
    return " x ".join(f"{number} {choice.removeprefix('as_')}" for number in sizes_written(values).values())


def put_likely(draft: Draft, answer: str) -> None:
    """Puts the size of an answer into a line: a width and a height, or a diameter."""
    texts = [reading.text for reading in read_cell_size(answer, "")]
    names = ("width", "height") if all(texts) else ("diameter",)
    for name, text in zip(names, texts if all(texts) else [read_cell_length(answer, "").text], strict=True):
        draft.written.setdefault(name, str(draft.values.get(name, "")))
        draft.values[name] = text


def check_size(answer: str, line: Asked) -> str:
    """Why an answer is no size of a line that is likely, blank where it is, or where it is a choice."""
    if answer == "set_aside" or answer.startswith("as_"):
        return ""
    around = not line.values.get("width")
    readings = [read_cell_length(answer, "")] if around else list(read_cell_size(answer, ""))
    wrong = next((reading.detail for reading in readings if reading.code), "")
    least = LEAST_PIPE if line.values.get("kind") == "pipe" else LEAST
    return wrong or ("" if all(least <= (r.nm or 0) <= MOST for r in readings) else "this is no likely size either")


def band_said(lines: Sequence[Asked], reads: Mapping[int, tuple[Read, list[Side]]]) -> Said:
    """The sides out of a band as a sentence, each mark's once."""
    found: dict[tuple[str, str, Fraction], Said] = {}
    for line in lines:
        read, sides = reads[line.index]
        for name, nm, _ in sides:
            found.setdefault((read.line.mark_key, name, nm), (f"the {name} of {read.line.mark}, ", nm))
    whose = reads[lines[0].index][1][0][2]
    told = list(found.values())
    rest = f" and {len(told) - 6:,} more" if len(told) > 6 else ""
    if len(told) == 1:
        first, length = told[0]
        return (f"T{str(first)[1:]}", length, f", is outside {whose} size. Is it right?")
    return ("Outside ", whose, " size: ", *joined(told[:6], "; "), rest, ". Are they right?")


def outside_band(shape: Shape, band: tuple[Fraction, Fraction] | None, pipe: bool = False) -> list[Side]:
    """The dimensions of a shape that no likely opening has, or none of the company's past, and whose band that is.

    Above 60 ft, under 1 in, one side under 4 in and both under 6 in, or a circle under 2 in: hardly the unit that was
    meant (common practice, no source). Pipes go down to NPS 1/8.
    """
    found: list[Side] = []
    sides = sides_of(shape)
    tiny = INCH if len(sides) > 1 else 2 * INCH
    all_small = len(sides) > 1 and all(nm < 6 * INCH for _, nm in sides) and min(nm for _, nm in sides) < LEAST
    for name, nm in sides:
        if nm > MOST or nm < (LEAST_PIPE if pipe else tiny) or (all_small and not pipe):
            found.append((name, nm, FAR_OUT))
        elif nm < LEAST and not pipe:
            found.append((name, nm, "any likely"))
        elif band is not None and not band[0] <= nm <= band[1]:
            found.append((name, nm, "the company's usual"))
    return found


def check_swapped(context: Context) -> list[int]:
    """Doors that lie on their side, and sizes that others have the other way round; the lines to be turned."""
    numbers = {read.kind.shape: read.shape for read in distinct_shapes(context.lines) if read.kind}
    counts = Counter((read.kind.kind, read.shape) for read in context.lines if read.kind)
    doubtful: dict[int, Read] = {}
    for read in context.lines:
        if read.kind is None or not isinstance(shape := read.kind.shape, Rectangle):
            continue
        lying = read.kind.kind == "door" and shape.height < TALL <= shape.width
        others = numbers.get(Rectangle(shape.height, shape.width), -1)
        alone = counts[read.kind.kind, read.shape] == 1 and others != read.shape
        if lying or (alone and counts[read.kind.kind, others] >= 3):
            doubtful[read.index] = read
    answers = context.asker.ask_lines(
        "width_height_swapped", BLOCKS_ISSUE, [context.asked(index, "width") for index in doubtful],
        lambda lines: swapped_said([doubtful[line.index] for line in lines]), choices=("as_read", "swap"),
        show=context.show,
    )  # fmt: skip
    return [index for index, answer in answers.items() if answer == "swap"]


def swapped_said(reads: Sequence[Read]) -> Said:
    """Marks and sizes that may be the wrong way round as a sentence."""
    sizes = {(r.line.mark_key, r.shape): (f"{r.line.mark} is ", *size_said(r.kind.shape)) for r in reads if r.kind}
    told = list(sizes.values())
    rest = f" and {len(told) - 6:,} more" if len(told) > 6 else ""
    return (*joined(told[:6], ", "), rest, " wide by high. Are width and height swapped?")


def distinct_shapes(lines: Iterable[Read]) -> list[Read]:
    """The first line of each shape."""
    return list({read.shape: read for read in lines if read.kind is not None}.values())
