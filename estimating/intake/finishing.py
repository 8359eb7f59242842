"""Drafts to lines: read as the core reads them, checked as a whole, answers put in, every doubt a question.

drafts > core lines and faults > sizes settled > duplicates, bands, gaps, storeys > access, sides, exterior
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.schedule import MOST_LINES, Reading, mark_key, read_lines
from estimating.intake import checks, checks_whole
from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.checks import Context, Read, number_shapes
from estimating.intake.draft import Draft
from estimating.intake.sniffing import refuse
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction
from rates.core.problems import Problem, Refused
from rates.core.units import read_length

ASKED_BEFORE = frozenset({"mark", "quantity", "width", "height", "diameter", "springline"})
ASKED_CODES = frozenset({"missing", "blank", "unit_missing", "ambiguous", "one_of"})
DIMENSIONS = ("width", "height", "springline", "rise", "diameter", "points", "shape")
Place = Callable[[int, str | None], str]


@dataclass(frozen=True)
class Company:
    """What a company's past says: its band of sizes, the densities of its jobs, the wall area of this one."""

    band: tuple[Fraction, Fraction] | None = None
    wall_area_nm2: Fraction | None = None
    past_densities: tuple[Fraction, ...] = ()


@dataclass(frozen=True)
class Extent:
    """How many openings are priced, and the least and greatest dimension of them (None without any)."""

    openings: int = 0
    smallest_nm: Fraction | None = None
    largest_nm: Fraction | None = None


def extent_of(reads: Sequence[Read]) -> Extent:
    """The extent of the lines that are priced and have a size."""
    lines = [read for read in reads if read.line.priced and read.kind is not None]
    first = {read.shape: read.kind.shape for read in lines if read.kind is not None}
    sizes = [nm for shape in first.values() for _, nm in checks.sides_of(shape)]
    count = sum(read.line.quantity for read in lines)
    return Extent(count, min(sizes), max(sizes)) if sizes else Extent(count)


def finish(
    drafts: Sequence[Draft], place: Place, asker: Asker, company: Company, kind_missing: Sequence[int], unit: str = ""
) -> list[Read]:
    """The lines that can be read, answers put into the drafts; bare numbers are in `unit`."""
    if len(drafts) > MOST_LINES:
        raise Refused([refuse("too_many_lines", f"at most {MOST_LINES:,} lines are taken, not {len(drafts):,}")])
    metric = is_metric(drafts)
    kind = checks_whole.tell_kinds(Context(drafts, (), asker, place, metric), kind_missing)
    for index in kind_missing if kind else ():
        drafts[index].values["kind"] = kind
    reads = core_lines(drafts, asker, place, unit)
    context = Context(drafts, reads, asker, place, metric, company.band)
    reads = settle_sizes(drafts, context, unit)
    context = Context(drafts, reads, asker, place, metric, company.band)
    for index, reason in checks.check_duplicates(context).items():
        drafts[index].values["excluded"] = {"reason": reason}
    checks.check_bands(context)
    checks.check_gaps(context)
    checks_whole.check_storeys(context)
    checks_whole.check_density(context, company.wall_area_nm2, company.past_densities)
    settle_factors(drafts, context)
    return reads


def is_metric(drafts: Sequence[Draft]) -> bool:
    """Whether most lengths are written in metres or parts of them."""
    texts = [str(draft.values.get("width") or draft.values.get("diameter") or "") for draft in drafts[:400]]
    return sum(1 for text in texts if text.endswith("m")) * 2 > len(texts)


def core_lines(drafts: Sequence[Draft], asker: Asker, place: Place, unit: str) -> list[Read]:
    """The drafts that the core can read; each fault not asked about already becomes a question."""
    reading = Reading(unit or None, False)
    found = read_lines(reading, [draft.values for draft in drafts], "")
    kinds = list(reading.kinds)
    excluded = False
    for fault in reading.faults:
        _, number, *path = fault.pointer.split("/")
        index, name = int(number), path[0] if path else ""
        if name in ASKED_BEFORE and fault.code in ASKED_CODES:
            continue
        excluded = ask_fault(drafts[index], index, name, fault, asker, place) or excluded
    if excluded:
        again = Reading(unit or None, False)
        found, kinds = read_lines(again, [draft.values for draft in drafts], ""), list(again.kinds)
    return number_shapes(found, kinds)


def ask_fault(draft: Draft, index: int, name: str, fault: Problem, asker: Asker, place: Place) -> bool:
    """A fault of a line as a question; whether an answer leaves the line out."""
    mark = str(draft.values.get("mark") or "This line")[:40]
    about = (mark, str(draft.values.get("storey", "")), name, fault.code, str(draft.values.get(name, ""))[:80])
    answer = asker.ask(
        "line_unreadable", BLOCKS_COSTING, f"{mark}, {name.replace('_', ' ') or 'line'}: {fault.detail}.", about=about,
        choices=("exclude",), cells=(place(index, name or None),), lines=(index,),
    )  # fmt: skip
    if answer != "exclude":
        return False
    values = draft.values
    kept = ("mark", "quantity", "elevation", "storey", "kind", "note")
    draft.values = {k: v for k, v in values.items() if k in kept and k != name} | {
        "excluded": {"reason": f"can't be read: {fault.detail}"[:300]}
    }
    draft.values.setdefault("quantity", 0)
    return True


def settle_sizes(drafts: Sequence[Draft], context: Context, unit: str) -> list[Read]:
    """One size for each mark, none lying on its side, as answers say; the lines read again where one changed."""
    changed = False
    for index, right in checks.check_two_sizes(context).items():
        values, model = drafts[index].values, drafts[right].values
        drafts[index].written.setdefault("width", str(values.get("width", "")))
        for name in DIMENSIONS:
            values.pop(name, None)
            if name in model:
                values[name] = model[name]
        changed = True
    for index in checks.check_swapped(context):
        values = drafts[index].values
        values["width"], values["height"] = values["height"], values["width"]
        changed = True
    if not changed:
        return list(context.lines)
    reading = Reading(unit or None, False)
    found = read_lines(reading, [draft.values for draft in drafts], "")
    return number_shapes(found, list(reading.kinds))


def settle_factors(drafts: Sequence[Draft], context: Context) -> None:
    """Access, treated sides of doors, and exterior or interior, as answers say."""
    access = checks_whole.ask_access(context)
    external = checks_whole.ask_external(context)
    sides = checks_whole.ask_door_sills(context)
    if not (access or external or sides):
        return
    for read in context.lines:
        values = drafts[read.index].values
        if access:
            values.setdefault("access", access)
        if external in ("exterior", "interior") and read.kind is not None and read.kind.external is None:
            values["external"] = external == "exterior"
        if sides and read.kind is not None and read.kind.kind == "door" and "sides" not in values:
            values["sides"] = ["jambs", "head"] if sides == "jambs_and_head" else ["sill", "jambs", "head"]


def enlarge(drafts: Sequence[Draft], added: dict[int, str]) -> None:
    """Width and height of tables whose sizes are not rough, with what an answer adds to them."""
    for draft in drafts:
        more = added.get(draft.table)
        for name in ("width", "height") if more else ():
            text = draft.values.get(name)
            try:
                nm = read_length(str(text)).nm + read_length(str(more)).nm
            except ValueError:
                continue
            draft.written[name] = f"{text} and {more}"
            draft.values[name] = f"{print_quantity(nm / 10**6, 6)} mm"


def part_marks(drafts: Sequence[Draft], place: Place, asker: Asker) -> None:
    """Marks that stand for a window and for a door as well get their kind before them, and that is told."""
    kinds: dict[str, set[str]] = {}
    for draft in drafts:
        if draft.values.get("mark") and "kind" in draft.values:
            kinds.setdefault(mark_key(draft.values["mark"]), set()).add(draft.values["kind"])
    shared = {mark for mark, found in kinds.items() if len(found) > 1}
    if not shared:
        return
    cells = []
    for index, draft in enumerate(drafts):
        mark = str(draft.values.get("mark", ""))
        if mark_key(mark) in shared and "kind" in draft.values:
            draft.values["mark"], draft.written["mark"] = f"{draft.values['kind']} {mark}"[:80], mark
            cells.append(place(index, "mark"))
    listed = ", ".join(sorted(shared)[:5])
    asker.tell(
        "mark_of_two_kinds", f"Marks such as {listed} stand for two kinds; the kind is put before them.", cells=cells
    )


def values_of(drafts: Sequence[Draft]) -> list[dict[str, Any]]:
    """The lines as they are stored."""
    return [draft.values for draft in drafts]
