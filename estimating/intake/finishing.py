"""Drafts to lines: read as the core reads them, checked as a whole, answers put in, every doubt a question.

drafts > core lines and faults > sizes settled > duplicates, bands, gaps, storeys > access, sides, exterior
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.kind_reading import OUTLINE_FIELDS
from estimating.core.schedule import MOST_LINES
from estimating.core.schedule_lines import mark_key
from estimating.core.schedule_reading import Reading, read_lines
from estimating.intake import checks, checks_whole, size_checks
from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.checks import Context, Read, number_shapes
from estimating.intake.columns import cell_reader
from estimating.intake.draft import Draft
from estimating.intake.line_answers import SET_ASIDE, put_fields, read_fields
from estimating.intake.questions import Asked
from estimating.intake.sniffing import refuse
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction
from rates.core.problems import Problem, Refused
from rates.core.units import read_length

NOT_FOR_SHAPE = "not_for_shape"  # the core's code of a dimension that a shape doesn't have
ASKED_BEFORE = frozenset({"mark", "quantity", "width", "height", "diameter", "springline"})
ASKED_CODES = frozenset({"missing", "blank", "unit_missing", "ambiguous", "one_of"})
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
    for index, kind in checks_whole.ask_kinds(Context(drafts, (), asker, place, metric), kind_missing).items():
        put_fields(drafts[index], {"kind": kind})
    reads = core_lines(drafts, asker, place, unit)
    context = Context(drafts, reads, asker, place, metric, company.band)
    reads = settle_sizes(drafts, context, unit)
    context = Context(drafts, reads, asker, place, metric, company.band)
    reads = settle_doubtful(drafts, context, unit)
    context = Context(drafts, reads, asker, place, metric, company.band)
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
    doubts: dict[tuple[str, str], dict[int, Problem]] = {}
    for fault in reading.faults:
        _, number, *path = fault.pointer.split("/")
        index, name = int(number), path[0] if path else ""
        if (
            name in ("springline", "rise", "diameter")
            and "shape" in drafts[index].asked
            and "shape" not in drafts[index].values
        ):
            continue  # the shape itself is asked about
        if fault.code == NOT_FOR_SHAPE and name == "height" and index in doubts.get(("width", NOT_FOR_SHAPE), ()):
            continue  # one question for both sides
        if name not in ASKED_BEFORE or fault.code not in ASKED_CODES or name in drafts[index].edited:
            doubts.setdefault((name, fault.code), {}).setdefault(index, fault)
    context = Context(drafts, (), asker, place, False)
    changed = [ask_faults(context, name, faults, unit) for (name, _), faults in doubts.items()]
    if any(changed):
        return read_again(drafts, unit)
    return number_shapes(found, list(reading.kinds))


def read_again(drafts: Sequence[Draft], unit: str) -> list[Read]:
    """The drafts that the core can read, after answers have changed some."""
    reading = Reading(unit or None, False)
    found = read_lines(reading, [draft.values for draft in drafts], "")
    return number_shapes(found, list(reading.kinds))


def ask_faults(context: Context, name: str, faults: Mapping[int, Problem], unit: str) -> bool:
    """Lines with one fault in one field as a question: left out, or the value that is right.

    name: the field, blank where a line as a whole is at fault. Gives whether answers change any line.
    """
    drafts, what = context.drafts, name.replace("_", " ") or "line"

    def sentence(lines: Sequence[Asked]) -> str:
        marks = checks.listed(dict.fromkeys(str(line.values.get("mark") or "a line")[:40] for line in lines))
        return f"{marks}, {what}: {faults[lines[0].index].detail}."

    def check(answer: str, line: Asked) -> str:
        """Why the core can't read the line with this value, blank where it can."""
        if answer == SET_ASIDE:
            return ""
        fields = fields_of(answer, name, line.values)
        if isinstance(fields, str):
            return fields
        again, tried = Reading(unit or None, False), Draft(dict(line.values), 0, 0)
        put_fields(tried, fields)
        read_lines(again, [tried.values], "")
        left = (f for f in again.faults if f.pointer.startswith(f"/0/{name}") or code == f.code == NOT_FOR_SHAPE)
        return next((fault.detail for fault in left), "")

    code = next(iter(faults.values())).code
    hint = f"the {what}, or fields such as width=36 in, sill.kind=sloped" if name else ""
    hint = "fields such as shape=rectangle or diameter=6 in" if code == NOT_FOR_SHAPE else hint
    lines = [context.asked(i, name or None, (name, str(drafts[i].values.get(name, ""))[:80])) for i in faults]
    answers = context.asker.ask_lines(
        "line_unreadable", BLOCKS_COSTING, lines, sentence, choices=(SET_ASIDE,), check=check,
        open_answer=hint, about=(name, code),
    )  # fmt: skip
    for index, answer in answers.items():
        if answer == SET_ASIDE:
            leave_out(drafts[index], name, faults[index].detail)
        else:
            fields = fields_of(answer, name, drafts[index].values)
            put_fields(drafts[index], {} if isinstance(fields, str) else fields)
    return bool(answers)


def fields_of(answer: str, name: str, values: Mapping[str, Any]) -> dict[str, Any] | str:
    """The fields that an answer about one field gives, the rest of a field of several kept; or why it gives none."""
    if "=" not in answer:
        return {name: cell_reader("points", "")(answer) if name == "points" else answer}
    fields = read_fields(answer)
    if isinstance(fields, str):
        return fields
    return {key: {**values[key], **value} if isinstance(value, dict) and isinstance(values.get(key), dict) else value
            for key, value in fields.items()}  # fmt: skip


def leave_out(draft: Draft, name: str, detail: str) -> None:
    """A line that can't be read, left out with the reason; what says where it belongs stays."""
    values = draft.values
    kept = ("mark", "quantity", "elevation", "storey", "kind", "note")
    draft.values = {k: v for k, v in values.items() if k in kept and k != name} | {
        "excluded": {"reason": f"can't be read: {detail}"[:300]}
    }
    draft.values.setdefault("quantity", 0)


def settle_sizes(drafts: Sequence[Draft], context: Context, unit: str) -> list[Read]:
    """One size for each mark, none lying on its side, as answers say; the lines read again where one changed."""
    changed = False
    for index, right in size_checks.check_two_sizes(context).items():
        changed = True
        values = drafts[index].values
        if isinstance(right, str):  # all are right: as many kinds of opening, each with a mark of its own
            drafts[index].written.setdefault("mark", str(values["mark"]))
            values["mark"] = f"{values['mark']} ({right})"[:80]
            continue
        model = drafts[right].values
        drafts[index].written.setdefault("width", str(values.get("width", "")))
        for name in (*OUTLINE_FIELDS, "shape"):
            values.pop(name, None)
            if name in model:
                values[name] = model[name]
    for index in size_checks.check_swapped(context):
        values = drafts[index].values
        values["width"], values["height"] = values["height"], values["width"]
        changed = True
    return read_again(drafts, unit) if changed else list(context.lines)


def settle_doubtful(drafts: Sequence[Draft], context: Context, unit: str) -> list[Read]:
    """Repetitions and sizes that are not likely, as answers say; the lines read again where one changed."""
    aside = checks.check_duplicates(context)
    sizes = size_checks.check_bands(context)
    for index, answer in sizes.items():
        if answer == "set_aside":
            aside[index] = "size not likely"
        elif answer != "as_read":
            size_checks.put_likely(drafts[index], answer)
    for index, reason in aside.items():
        drafts[index].values["excluded"] = {"reason": reason}
    return read_again(drafts, unit) if aside or set(sizes.values()) - {"as_read"} else list(context.lines)


def settle_factors(drafts: Sequence[Draft], context: Context) -> None:
    """Access, treated sides of doors, and exterior or interior, as answers say, line by line."""
    for index, access in checks_whole.ask_access(context).items():
        drafts[index].values["access"] = access
    for index, external in checks_whole.ask_external(context).items():
        if external != "leave_unknown":
            drafts[index].values["external"] = external == "exterior"
    for index, sides in checks_whole.ask_door_sills(context).items():
        drafts[index].values["sides"] = ["jambs", "head"] if sides == "jambs_and_head" else ["sill", "jambs", "head"]


def enlarge(drafts: Sequence[Draft], added: dict[int, str]) -> None:
    """Width and height of tables whose sizes are not rough, with what an answer adds to them."""
    for draft in drafts:
        width, _, height = ("" if draft.rough else added.get(draft.table, "")).partition(" x ")
        for name, more in (("width", width), ("height", height or width)) if width else ():
            if name in draft.edited:
                continue
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
