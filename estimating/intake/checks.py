"""What a whole schedule shows that no line shows alone: duplicates, one mark of two sizes, gaps, unlikely sizes.

lines as the core reads them > each check > questions and notes, with the lines and cells they are about
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from operator import attrgetter

from estimating.core.kinds import Kind
from estimating.core.schedule_lines import Line, mark_key
from estimating.core.shapes import Arched, Cornered, Shape
from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, Asker
from estimating.intake.cells import show
from estimating.intake.draft import Draft
from estimating.intake.line_identity import PARTS, identity_of
from estimating.intake.questions import Asked
from estimating.intake.said import size_said, spell
from rates.core.fraction import Fraction
from rates.core.units import LENGTH_NM

LEAST, MOST = 4 * LENGTH_NM["in"], 60 * LENGTH_NM["ft"]
TWICE = "the same line twice"
_SERIES = re.compile(r"(.*?)([0-9]{1,6})([-.]?[A-Z])?", re.ASCII)
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

    def asked(self, index: int, name: str | None = None, more: Sequence[str] = ()) -> Asked:
        """A line as a question is about it; `more` is what else an answer depends on."""
        draft = self.drafts[index]
        return Asked(index, PARTS.join((identity_of(draft), *more)), self.place(index, name), draft.values)

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
    return () if isinstance(shape, Arched | Cornered) else tuple(shape.sizes.items())


def check_duplicates(context: Context) -> dict[int, str]:
    """Lines that say the same as one before them; those that answers take for a repetition, with the reason.

    Of two tables they may be two issues of one list, of one table the same row twice: the count hangs on the answer.
    """
    told: dict[int, str] = {}
    groups = repeated_lines(context)
    for group in groups:
        where = " ".join(part for part in (group[0].line.storey, group[0].line.elevation) if part)
        counts = " and ".join(str(read.line.quantity) for read in group[:6])
        more = f" and {len(group) - 6:,} more" if len(group) > 6 else ""
        together = sum(read.line.quantity for read in group)
        place = f" for {where}" if where else ""
        said = f"{group[0].line.mark} stands {len(group)} times{place} with {counts}{more} ({together:,} together)"
        told |= dict.fromkeys((read.index for read in group[1:]), said)

    def sentence(lines: Sequence[Asked]) -> str:
        return f"{listed(dict.fromkeys(told[line.index] for line in lines))}: are all of them counted?"

    dropped: dict[int, str] = {}
    for sure, severity in ((True, BLOCKS_COSTING), (False, BLOCKS_ISSUE)):
        some = [group for group in groups if counts_twice([context.drafts[read.index] for read in group]) == sure]
        asked = [
            context.asked(read.index, None, (" and ".join(str(one.line.quantity) for one in group[:6]),))
            for group in some for read in group[1:]
        ]  # fmt: skip
        answers = context.asker.ask_lines(
            "duplicate_line", severity, asked, sentence, choices=("keep_all", "keep_first", "keep_last")
        )
        for group in some:
            dropped |= {read.index: TWICE for read in group[1:] if answers.get(read.index) == "keep_first"}
            if answers.get(group[-1].index) == "keep_last":
                dropped |= {read.index: TWICE for read in group[:-1]}
    return dropped


def counts_twice(drafts: Sequence[Draft]) -> bool:
    """Whether lines of one mark and place are of several tables or revisions, or of rows alike in every cell."""
    rows = [draft.cells for draft in drafts if draft.cells]
    several = any(len({part(draft) for draft in drafts}) > 1 for part in (attrgetter("table"), attrgetter("issue")))
    return several or len(set(rows)) < len(rows)


def repeated_lines(context: Context) -> list[list[Read]]:
    """The lines that have mark, place, kind and source in common, where there are several."""
    groups: dict[tuple[object, ...], list[Read]] = {}
    for read in context.lines:
        line = read.line
        key = (line.mark_key, *line.place, line.kind, line.source, line.id, line.alternate_name)
        groups.setdefault(key, []).append(read)
    found = [group for group in groups.values() if len(group) > 1]
    return [group for group in found if not of_one_row([context.drafts[read.index] for read in group])]


def of_one_row(drafts: Sequence[Draft]) -> bool:
    """Whether lines are the counts of one row, each in a cell of its own."""
    cells = {draft.places.get("quantity", "") for draft in drafts}
    return len({(draft.table, draft.row) for draft in drafts}) == 1 and len(cells) == len(drafts)


def listed(texts: Iterable[str], most: int = 6) -> str:
    """Texts in a row, and how many more there are."""
    found = list(texts)
    more = f" and {len(found) - most:,} more" if len(found) > most else ""
    return ", ".join(found[:most]) + more


def check_gaps(context: Context) -> None:
    """Numbers missing in a series of marks (W1, W2, W4), where most of the series is there; unread lines count too.

    A number that stands with a letter alone (W3A, W3B) is there, and makes no series.
    """
    series: dict[tuple[str, int], set[int]] = {}
    lettered: dict[tuple[str, int], set[int]] = {}
    for mark in dict.fromkeys(str(draft.values.get("mark", "")) for draft in context.drafts):
        match = _SERIES.fullmatch(mark_key(mark))
        if match:
            padded = len(match[2]) if match[2].startswith("0") else 0
            found_in = lettered if match[3] else series
            found_in.setdefault((match[1], padded), set()).add(int(match[2]))
    found = [
        (prefix, padded, numbers | between(numbers, lettered.get((prefix, padded), ())))
        for (prefix, padded), numbers in series.items()
        if missing_of(numbers)
    ]
    found = [(prefix, padded, numbers) for prefix, padded, numbers in found if missing_of(numbers)]
    if not found:
        return
    first: dict[str, int] = {}
    for index, draft in enumerate(context.drafts):
        first.setdefault(mark_key(str(draft.values.get("mark", ""))), index)
    for prefix, padded, numbers in found:
        ask_gap(context, prefix, padded, numbers, first)


def between(numbers: Iterable[int], others: Iterable[int]) -> set[int]:
    """Of other numbers those inside of a series."""
    have = set(numbers)
    return {number for number in others if min(have) < number < max(have)}


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
    sentence = f"The marks {named(min(have))} to {named(max(have))} lack {names}. Were they left out on purpose?"
    beside = [first[named(n - 1)] for n in missing if n - 1 in have and named(n - 1) in first]
    context.asker.ask(
        "gap_in_marks", BLOCKS_ISSUE, sentence, about=(prefix, names), choices=("none_missing",),
        cells=[context.place(index, "mark") for index in beside], lines=beside,
    )  # fmt: skip
