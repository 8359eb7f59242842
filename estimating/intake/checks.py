"""What a whole schedule shows that no line shows alone: duplicates, one mark of two sizes, gaps, unlikely sizes.

lines as the core reads them > each check > questions and notes, with the lines and cells they are about
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from estimating.core.kinds import Kind
from estimating.core.schedule import Line, mark_key
from estimating.core.shapes import Ellipse, Rectangle, Round, Shape
from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, Asker
from estimating.intake.cells import show
from estimating.intake.draft import Draft
from estimating.intake.said import joined, size_said, spell
from rates.core.fraction import Fraction
from rates.core.length_styles import print_length
from rates.core.units import LENGTH_NM

LEAST, MOST = 4 * LENGTH_NM["in"], 60 * LENGTH_NM["ft"]
TALL = 72 * LENGTH_NM["in"]  # a door is hardly lower (common practice, no source)
_SERIES = re.compile(r"(.*?)([0-9]{1,6})", re.ASCII)
Place = Callable[[int, str | None], str]


@dataclass(frozen=True, slots=True)
class Read:
    """One line that can be read: its index in the schedule, and its kind (None: excluded without a size)."""

    index: int
    line: Line
    kind: Kind | None
    shape: int = -1  # equal for equal shapes, -1 without one


def number_shapes(found: Iterable[tuple[int, Line]], kinds: Sequence[Kind]) -> list[Read]:
    """The lines with their kinds, and a number for each distinct shape."""
    numbers: dict[Shape, int] = {}
    shapes = [numbers.setdefault(kind.shape, len(numbers)) for kind in kinds]
    return [
        Read(index, line, None) if line.kind is None else Read(index, line, kinds[line.kind], shapes[line.kind])
        for index, line in found
    ]


@dataclass(frozen=True)
class Context:
    """What the checks look at, whom they ask, and how places and lengths are named."""

    drafts: Sequence[Draft]
    lines: Sequence[Read]
    asker: Asker
    place: Place
    metric: bool
    band: tuple[Fraction, Fraction] | None = None  # the company's own least and greatest size

    def says(self, read: Read, name: str) -> bool:
        """Whether a line gives a field, or is asked about it by a question of its own."""
        draft = self.drafts[read.index]
        return name in draft.values or name in draft.asked

    def show(self, nm: Fraction) -> str:
        """A length as the schedule itself has it."""
        return show(nm, self.metric)

    def size(self, read: Read) -> str:
        """A line's size as questions name it, blank without one."""
        return size_text(read.kind.shape, self.metric) if read.kind else ""


def size_text(shape: Shape, metric: bool) -> str:
    """A size as sentences and question ids name it."""
    return spell(size_said(shape), lambda nm: show(nm, metric))


def sides_of(shape: Shape) -> tuple[tuple[str, Fraction], ...]:
    """The dimensions that a band is checked on."""
    if isinstance(shape, Rectangle | Ellipse):
        return ("width", shape.width), ("height", shape.height)
    return (("diameter", shape.diameter),) if isinstance(shape, Round) else ()


def about(read: Read, metric: bool) -> tuple[str, ...]:
    """What a question about a line depends on: mark, place and size."""
    size = size_text(read.kind.shape, metric) if read.kind else ""
    return read.line.mark_key, read.line.storey, read.line.elevation, size


def check_duplicates(context: Context) -> dict[int, str]:
    """Lines that say the same as another; those that an answer takes for a repetition, with the reason."""
    groups: dict[tuple[object, ...], list[Read]] = {}
    for read in context.lines:
        line = read.line
        key = (line.mark_key, line.elevation, line.storey, line.kind, line.source, line.id, line.alternate)
        groups.setdefault(key, []).append(read)
    dropped: dict[int, str] = {}
    for group in groups.values():
        if len(group) < 2:
            continue
        where = " ".join(part for part in (group[0].line.storey, group[0].line.elevation) if part)
        counts = " and ".join(str(read.line.quantity) for read in group[:6])
        on = f" for {where}" if where else ""
        sentence = f"{group[0].line.mark} stands {len(group)} times{on} with {counts}: all counted?"
        answer = context.asker.ask(
            "duplicate_line", BLOCKS_ISSUE, sentence, about=(*about(group[0], context.metric), counts),
            choices=("keep_all", "keep_first"), cells=[context.place(read.index, None) for read in group],
            lines=[read.index for read in group],
        )  # fmt: skip
        if answer == "keep_first":
            dropped |= {read.index: "the same line twice" for read in group[1:]}
    return dropped


def check_two_sizes(context: Context) -> dict[int, int]:
    """One mark has one size; line -> the line whose size an answer gives it."""
    sizes: dict[str, dict[int, list[Read]]] = {}
    for read in context.lines:
        if read.kind is not None:
            sizes.setdefault(read.line.mark_key, {}).setdefault(read.shape, []).append(read)
    changed: dict[int, int] = {}
    for found in sizes.values():
        if len(found) < 2:
            continue
        names = name_sizes(context, list(found.values()))
        reads = [group[0] for group in found.values()]
        shapes = [read.kind.shape for read in reads if read.kind is not None]
        turned = any(is_turned(a, b) for a in shapes for b in shapes)
        hint = " (width and height look swapped)" if turned else ""
        start, end = f"{reads[0].line.mark} has {len(found)} sizes: ", f"{hint}. Which is right?"
        sizes = [size_said(shape) for shape in shapes]
        answer = context.asker.ask(
            "mark_of_two_sizes", BLOCKS_COSTING, f"{start}{', '.join(names)}{end}",
            about=(reads[0].line.mark_key, *sorted(names)),
            choices=tuple(names), cells=[context.place(read.index, "width") for read in reads],
            lines=[read.index for read in reads], said=(start, *joined(sizes, ", "), end), choices_said=sizes,
        )  # fmt: skip
        if answer:
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


def check_bands(context: Context) -> None:
    """Sizes under 4 in or over 60 ft, then those outside the company's own band; each mark's size once."""
    shapes = {read.shape: read.kind.shape for read in distinct_shapes(context.lines) if read.kind}
    outside = {number: found for number, shape in shapes.items() if (found := outside_band(shape, context.band))}
    if not outside:
        return
    seen: set[tuple[str, int]] = set()
    for read in context.lines:
        key = (read.line.mark_key, read.shape)
        if read.shape not in outside or key in seen:
            continue
        seen.add(key)
        for name, nm, whose in outside[read.shape]:
            if context.asker.full:
                context.asker.left_out += 1
                continue
            said = (f"The {name} of {read.line.mark}, ", nm, f", is outside {whose} size. Is it right?")
            context.asker.ask(
                "size_out_of_band", BLOCKS_ISSUE, spell(said, context.show), about=(*about(read, context.metric), name),
                choices=("as_read",), cells=(context.place(read.index, name),), lines=(read.index,), said=said,
            )  # fmt: skip


def outside_band(shape: Shape, band: tuple[Fraction, Fraction] | None) -> list[tuple[str, Fraction, str]]:
    """The dimensions of a shape that no likely opening has, or none of the company's past, and whose band that is."""
    found = []
    for name, nm in sides_of(shape):
        if not LEAST <= nm <= MOST:
            found.append((name, nm, "any likely"))
        elif band is not None and not band[0] <= nm <= band[1]:
            found.append((name, nm, "the company's usual"))
    return found


def check_swapped(context: Context) -> list[int]:
    """Doors that lie on their side, and sizes that others have the other way round; the lines to be turned."""
    numbers = {read.kind.shape: read.shape for read in distinct_shapes(context.lines) if read.kind}
    counts = Counter((read.kind.kind, read.shape) for read in context.lines if read.kind)
    turned: list[int] = []
    asked: dict[tuple[str, int], str | None] = {}
    for read in context.lines:
        kind = read.kind
        if kind is None or not isinstance(shape := kind.shape, Rectangle):
            continue
        key = (read.line.mark_key, read.shape)
        if key not in asked:
            asked[key] = None
            lying = kind.kind == "door" and shape.height < TALL <= shape.width
            others = numbers.get(Rectangle(shape.height, shape.width), -1) if counts[kind.kind, read.shape] == 1 else -1
            if lying or (others != read.shape and counts[kind.kind, others] >= 3):
                asked[key] = ask_swapped(context, read)
        if asked[key] == "swap":
            turned.append(read.index)
    return turned


def distinct_shapes(lines: Iterable[Read]) -> list[Read]:
    """The first line of each shape."""
    return list({read.shape: read for read in lines if read.kind is not None}.values())


def ask_swapped(context: Context, read: Read) -> str | None:
    """Whether width and height of a line are the wrong way round."""
    size = size_said(read.kind.shape) if read.kind else ()
    said = (f"{read.line.mark} is ", *size, " wide by high. Are width and height swapped?")
    return context.asker.ask(
        "width_height_swapped", BLOCKS_ISSUE, spell(said, context.show), about=about(read, context.metric),
        choices=("as_read", "swap"), cells=(context.place(read.index, "width"),), lines=(read.index,), said=said,
    )  # fmt: skip


def check_gaps(context: Context) -> None:
    """Numbers missing in a series of marks (W1, W2, W4), where most of the series is there; unread lines count too."""
    series: dict[tuple[str, int], dict[int, int]] = {}
    for index, mark in enumerate(dict.fromkeys(str(draft.values.get("mark", "")) for draft in context.drafts)):
        match = _SERIES.fullmatch(mark_key(mark))
        if match:
            padded = len(match[2]) if match[2].startswith("0") else 0
            series.setdefault((match[1], padded), {})[int(match[2])] = index
    found = [(prefix, padded, numbers) for (prefix, padded), numbers in series.items() if missing_of(numbers)]
    if not found:
        return
    first: dict[str, int] = {}
    for index, draft in enumerate(context.drafts):
        first.setdefault(mark_key(str(draft.values.get("mark", ""))), index)
    for prefix, padded, numbers in found:
        ask_gap(context, prefix, padded, numbers, first)


def missing_of(numbers: Iterable[int]) -> list[int]:
    """The numbers that a series lacks; none where it is no series: too short, or lacking more than half."""
    have = set(numbers)
    low, high = min(have), max(have)
    if len(have) < 3 or high - low >= 10_000:
        return []
    missing = [n for n in range(low, high + 1) if n not in have]
    return missing if len(missing) * 2 <= len(have) else []


def ask_gap(context: Context, prefix: str, padded: int, numbers: Iterable[int], first: Mapping[str, int]) -> None:
    """Whether the numbers that a series lacks are left out on purpose."""
    missing, have = missing_of(numbers), set(numbers)

    def named(number: int) -> str:
        return prefix + str(number).rjust(padded, "0")

    names = ", ".join(named(n) for n in missing[:10])
    sentence = f"The marks {named(min(have))} to {named(max(have))} lack {names}. Are they left out on purpose?"
    beside = [first[named(n - 1)] for n in missing if n - 1 in have and named(n - 1) in first]
    context.asker.ask(
        "gap_in_marks", BLOCKS_ISSUE, sentence, about=(prefix, names), choices=("none_missing",),
        cells=[context.place(index, "mark") for index in beside], lines=beside,
    )  # fmt: skip
