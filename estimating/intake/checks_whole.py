"""Doubts about a schedule as a whole: what no line says, what every line says alike, what breaks a pattern."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from estimating.core.kinds import OPENING_KINDS, Kind
from estimating.intake.asking import BLOCKS_ISSUE
from estimating.intake.checks import Context, Read
from estimating.intake.expansion import storeys_of
from estimating.intake.questions import Asked
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction
from rates.core.tables import ACCESS
from rates.core.texts import counted
from rates.core.units import AREA_NM2

LEAST_STOREYS = 5  # of which all but one must agree before that one is odd
LEAST_PAST = 5  # jobs before there is a usual density


def priced(context: Context) -> list[Read]:
    """The lines that count in the base price and have a size."""
    return [read for read in context.lines if read.kind is not None and read.line.priced]


def offered(context: Context) -> list[Read]:
    """The lines that count in the base price or in an alternate: what is not said of either would be taken unasked."""
    return [read for read in context.lines if read.kind is not None and read.line.reason is None]


def kind_of(read: Read) -> Kind:
    """The kind of a line that has one."""
    assert read.kind is not None
    return read.kind


def ask_access(context: Context) -> dict[int, str]:
    """The access that answers give to lines without one; unanswered they are priced from the ground."""
    without = [read for read in offered(context) if kind_of(read).access is None and not context.says(read, "access")]

    def sentence(lines: Sequence[Asked]) -> str:
        places = f"{counted(openings_of(lines), 'opening')} on {counted(len(lines), 'line')}"
        return f"No access is given for {places}. How is the work reached? Unanswered, it is priced from the ground."

    return context.asker.ask_lines(
        "access_missing", BLOCKS_ISSUE, [context.asked(read.index) for read in without], sentence, choices=ACCESS
    )


def openings_of(lines: Sequence[Asked]) -> int:
    """How many openings lines count, as far as their counts can be read."""
    counts = (line.values.get("quantity") for line in lines)
    return sum(count for count in counts if isinstance(count, int))


def ask_external(context: Context) -> dict[int, str]:
    """Unknown exterior or interior, where other lines know; and models in which all are interior."""
    lines = [read for read in context.lines if read.kind is not None]
    known = [read for read in lines if kind_of(read).external is not None]
    if known and not any(kind_of(read).external for read in known):
        context.asker.ask(
            "all_interior", BLOCKS_ISSUE,
            f"All {len(known):,} lines that say so are interior. Is the flag right, or was it never set?",
            about=(str(len(known)),), choices=("flag_is_right", "flag_was_not_set"),
        )  # fmt: skip
    if not known:
        return {}
    drafts = context.drafts
    counted_in = [read for read in lines if "excluded" not in drafts[read.index].values]
    unknown = [r for r in counted_in if kind_of(r).external is None and "external" not in drafts[r.index].asked]

    def sentence(lines: Sequence[Asked]) -> str:
        where = counted(len(lines), "line")
        return f"Exterior or interior is not given on {where}. Unanswered, all of them are priced."

    return context.asker.ask_lines(
        "external_unknown", BLOCKS_ISSUE, [context.asked(read.index, "external") for read in unknown], sentence,
        choices=("exterior", "interior", "leave_unknown"),
    )  # fmt: skip


def ask_door_sills(context: Context) -> dict[int, str]:
    """Doors that say nothing of their sides: on a slab there is no sill to treat."""
    doors = [
        read for read in offered(context)
        if kind_of(read).kind == "door" and not context.says(read, "sides") and kind_of(read).sill is None
    ]  # fmt: skip

    def sentence(lines: Sequence[Asked]) -> str:
        count = counted(openings_of(lines), "door")
        return f"No sides are given for {count}: jambs and head only (on a slab), or the sill too?"

    return context.asker.ask_lines(
        "door_sides", BLOCKS_ISSUE, [context.asked(read.index) for read in doors], sentence,
        choices=("jambs_and_head", "all_sides"),
    )  # fmt: skip


def check_storeys(context: Context) -> None:
    """A storey that breaks the repetition of the others: so many more or fewer openings of one mark."""
    counts: dict[str, dict[str, int]] = {}
    storeys: set[str] = set()
    for read in priced(context):
        if read.line.storey and not storeys_of(read.line.storey):  # 1-3, counted on all together, is no storey more
            storeys.add(read.line.storey)
            found = counts.setdefault(read.line.mark_key, {})
            found[read.line.storey] = found.get(read.line.storey, 0) + read.line.quantity
    if len(storeys) < LEAST_STOREYS:
        return
    for mark, by_storey in counts.items():
        missing = storeys - by_storey.keys() if len(by_storey) >= len(storeys) - 1 else set()
        if len(by_storey) + len(missing) == len(storeys):
            ask_storey(context, mark, by_storey | dict.fromkeys(missing, 0))


def ask_storey(context: Context, mark: str, by_storey: Mapping[str, int]) -> None:
    """Whether the one storey is right that has another count of a mark than all others."""
    usual, times = Counter(by_storey.values()).most_common(1)[0]
    odd = [storey for storey, count in by_storey.items() if count != usual]
    if not usual or len(odd) != 1:
        return
    here = [r for r in context.lines if (r.line.mark_key, r.line.storey) == (mark, odd[0])]
    here = here or [r for r in context.lines if r.line.mark_key == mark]
    count = by_storey[odd[0]]
    context.asker.ask(
        "storey_breaks_repetition", BLOCKS_ISSUE,
        f"{mark} is counted {usual} on {times} storeys and {count} on {odd[0]}. Is that right?",
        about=(mark, odd[0], str(usual), str(count)), choices=("as_read",),
        cells=[context.place(read.index, None) for read in here],
    )  # fmt: skip


def quartiles(values: Sequence[Fraction]) -> tuple[Fraction, Fraction]:
    """The lower and upper quartile, linear between the sorted values."""
    ordered = sorted(values)

    def at(share: Fraction) -> Fraction:
        place = share * (len(ordered) - 1)
        below = place.numerator // place.denominator
        above = min(below + 1, len(ordered) - 1)
        return ordered[below] + (place - below) * (ordered[above] - ordered[below])

    return at(Fraction(1, 4)), at(Fraction(3, 4))


def check_density(context: Context, wall_area_nm2: Fraction | None, past: Sequence[Fraction]) -> None:
    """Openings per wall area against the company's own past jobs: outside the quartiles by 1.5 times their distance.

    past: openings per nm² of earlier jobs; fewer than five say nothing (the fence is Tukey's, 1977, from memory).
    """
    if not wall_area_nm2 or len(past) < LEAST_PAST:
        return
    count = sum(read.line.quantity for read in priced(context))
    density = count / wall_area_nm2
    low, high = quartiles(past)
    reach = Fraction(3, 2) * (high - low)
    if low - reach <= density <= high + reach:
        return
    per, unit = (100 * AREA_NM2["m2"], "100 m2") if context.metric else (1000 * AREA_NM2["ft2"], "1,000 ft2")
    now, usual = print_quantity(density * per, 2), f"{print_quantity(low * per, 2)} to {print_quantity(high * per, 2)}"
    context.asker.ask(
        "density_outlier", BLOCKS_ISSUE,
        f"{count:,} openings are {now} per {unit} of wall; half of your jobs have {usual}. Is the count whole?",
        about=(str(count), now), choices=("as_read",),
    )  # fmt: skip


def ask_kinds(context: Context, kind_missing: Sequence[int]) -> dict[int, str]:
    """Lines for which neither a column, a title nor the sheet's name gives a kind: windows unless answered."""

    def sentence(lines: Sequence[Asked]) -> str:
        where = counted(len(lines), "line")
        return f"No kind of opening is given on {where}. Unanswered, they are priced as windows."

    return context.asker.ask_lines(
        "kind_missing", BLOCKS_ISSUE, [context.asked(index) for index in kind_missing], sentence,
        choices=OPENING_KINDS,
    )  # fmt: skip
