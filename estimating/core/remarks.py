"""What a person should know about an estimate: questions, warnings and facts, each with where it arose.

One remark a subject: its detail names the marks (the first few), its pointer the first line.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass

from estimating.core.kinds import Kind
from estimating.core.part import Part
from estimating.core.request import Request
from estimating.core.schedule_lines import Line
from estimating.core.shapes import ALL_SIDES
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction
from rates.core.units import LENGTH_NM

NAMED = 6
COVERAGE_SPREAD = Fraction(1, 10)


@dataclass(frozen=True)
class Remark:
    """code: a stable word; severity: question, warning or to_know; pointer: in the request."""

    code: str
    severity: str
    pointer: str
    detail: str


def naming(lines: Iterable[Line]) -> str:
    """The marks of lines, the first few, and how many openings they are."""
    marks = list(dict.fromkeys([line.mark for line in lines]))
    more = f" and {len(marks) - NAMED} more" if len(marks) > NAMED else ""
    return ", ".join(marks[:NAMED]) + more


SMALLEST_NM, LARGEST_NM = 4 * LENGTH_NM["in"], 60 * LENGTH_NM["ft"]


def odd_size(kind: Kind) -> bool:
    """Whether an opening that is no pipe has an overall size outside 4 in to 60 ft (common practice, no source)."""
    sizes = [kind.shape.width_nm, getattr(kind.shape, "height", kind.shape.width_nm)]
    largest = max(sizes) > LARGEST_NM
    return largest or (not kind.is_pipe and min(sizes) < SMALLEST_NM)


KindTest = Callable[[Kind], bool]
OF_KINDS: tuple[tuple[str, str, str, KindTest], ...] = (
    ("access_unknown", "question", "no access is given, priced from the ground: {}", lambda k: k.access is None),
    (
        "substrate_unknown",
        "question",
        "no substrate is given under tape, priced as gypsum sheathing: {}",
        lambda k: k.method == "tape" and k.substrate is None,
    ),
    (
        "barrier_unknown",
        "question",
        "fluid is priced and no wall barrier is given; is it fluid-applied? {}",
        lambda k: k.method == "fluid" and k.barrier is None,
    ),
    (
        "method_overridden",
        "warning",
        "fluid stands against a sheet barrier by a recorded override: {}",
        lambda k: k.method == "fluid" and k.barrier == "sheet",
    ),
    (
        "door_all_sides",
        "question",
        "a door with all sides treated; has it a sill? {}",
        lambda k: k.kind == "door" and k.shape.has_sill and k.sides == ALL_SIDES and k.sill is None,
    ),
    (
        "no_fluid_barrier",
        "warning",
        "fluid is priced where the wall has no fluid-applied barrier: {}",
        lambda k: k.method == "fluid" and k.barrier == "none",
    ),
    (
        "size_out_of_band",
        "warning",
        "smaller than 4 in or larger than 60 ft; is the unit right? {}",
        lambda k: odd_size(k),
    ),
    ("length_snapped", "to_know", "decimal feet were taken to the nearest 1/64 in: {}", lambda k: bool(k.snapped)),
)


def lines_of(request: Request, part: Part, kinds: Collection[int]) -> list[int]:
    """Indexes of the priced lines of some kinds in a part."""
    lines = request.schedule.lines
    return [i for i in request.schedule.priced_among(part.plan.lines) if lines[i].kind in kinds] if kinds else []


def kind_remarks(request: Request, part: Part) -> list[Remark]:
    """Remarks on kinds that are priced in a part."""
    found = []
    lines = request.schedule.lines
    named: dict[frozenset[int], tuple[int, str]] = {}  # several remarks often hit the same lines
    for code, severity, words, applies in OF_KINDS:
        kinds = frozenset(k for k, work in part.works.items() if applies(work.kind))
        if kinds and kinds not in named:
            hit = lines_of(request, part, kinds)
            named[kinds] = (hit[0], naming([lines[i] for i in hit]))
        if kinds:
            first, marks = named[kinds]
            found.append(Remark(code, severity, f"/openings/{first}", words.format(marks)))
    return found


def weep_remarks(request: Request, part: Part) -> list[Remark]:
    """Weep gaps as long as the sill or longer, which leave it no bead."""
    seal = request.seal
    gaps = seal.weep_count * seal.weep_length_nm if seal is not None else Fraction(0)
    sealed = {k: w.kind for k, w in part.works.items() if w.kind.sealed is not False and w.kind.shape.has_sill}
    short = {k for k, kind in sealed.items() if "sill" in kind.sides and gaps and gaps >= kind.shape.width_nm}
    hit = lines_of(request, part, short)
    if not hit:
        return []
    detail = f"the weep gaps are as long as the sill: {naming([request.schedule.lines[i] for i in hit])}"
    return [Remark("weeps_over_sill", "warning", "/perimeter_seal/weeps", detail)]


def unknown_external(request: Request) -> list[Remark]:
    """Lines kept in although nobody says whether they are exterior."""
    if not request.only_external:
        return []
    kinds, lines = request.schedule.kinds, request.schedule.lines
    unknown = {k for k, kind in enumerate(kinds) if kind.external is None}
    hit = [i for i in request.schedule.priced if lines[i].kind in unknown]
    if not hit:
        return []
    detail = f"exterior or interior is not known, priced as exterior: {naming([lines[i] for i in hit])}"
    return [Remark("external_unknown", "question", f"/openings/{hit[0]}", detail)]


def duplicates(request: Request) -> list[Remark]:
    """Lines that repeat a mark, place, kind and source: counted twice?"""
    lines = request.schedule.lines
    once = Counter([line.mark_key for line in lines])
    seen: dict[tuple[object, ...], int] = {}
    hit = []
    for i in request.schedule.priced if len(once) < len(lines) else ():
        line = lines[i]
        if once[line.mark_key] > 1:
            key = (line.mark_key, *line.place, line.kind, line.source)
            if seen.setdefault(key, i) != i:
                hit.append(i)
    if not hit:
        return []
    detail = f"the same mark, place, size and source stand on more than one line: {naming([lines[i] for i in hit])}"
    return [Remark("duplicate_line", "question", f"/openings/{hit[0]}", detail)]


def film_remarks(part: Part) -> list[Remark]:
    """A data sheet's coverage that does not agree with the wet film."""
    found = []
    for m in part.materials:
        film = sum(m.row.wet_film_nm or (), Fraction(0))
        if m.row.coverage_per_nm is None or not film:
            continue
        by_film = 1 / film
        if abs(m.row.coverage_per_nm - by_film) > COVERAGE_SPREAD * by_film:
            detail = f"the coverage of {m.row.code} differs by more than 10 % from its wet film; the film is priced"
            found.append(Remark("coverage_differs", "warning", "", detail))
    return found


def cut_plan_remarks(part: Part) -> list[Remark]:
    """Waste of the edition that a cut plan leaves out; a share that is lost is no offcut, so that it warns."""
    found = []
    for m in part.materials:
        if m.planned and m.waste.rate:
            told = f"{print_quantity(m.waste.percent)} % {m.waste.kind}"
            detail = f"{m.row.code} is bought by the cut plan: its waste of {told} is not added"
            severity = "warning" if m.waste.kind == "lost" else "to_know"
            found.append(Remark("waste_left_out", severity, "/quantities_from", detail))
    return found


def turn_remarks(part: Part) -> list[Remark]:
    """Turns shorter than the face lap leave the corner open unless head and sill run w + 2f."""
    g = part.plan.card.production.geometry
    fluid = [w for w in part.works.values() if w.kind.method == "fluid" and w.kind.shape.has_sill]
    if not fluid or min(g.turn_head_nm, g.turn_sill_nm) >= g.face_lap_nm:
        return []
    detail = "the jambs turn less than the face lap, so head and sill should run the width and two laps"
    return [Remark("turn_short", "warning", "", detail)]


def idle_remarks(part: Part) -> list[Remark]:
    """Zones too short for one coat to dry while the next opening is coated."""
    hit = [z for z in part.hours.zones if z.idle_minutes]
    if not hit:
        return []
    charged = "charged" if part.hours.idle_minutes else "not charged"
    places = ", ".join(f"{z.elevation or 'no elevation'} {z.storey}".strip() for z in hit[:NAMED])
    zones = "1 zone waits" if len(hit) == 1 else f"{len(hit)} zones wait"
    detail = f"{zones} between coats ({charged}): {places}{' and more' if len(hit) > NAMED else ''}"
    return [Remark("idle_between_coats", "to_know", "", detail)]


def access_remarks(part: Part) -> list[Remark]:
    """Access worked from for which the production table has no factor."""
    table = dict(part.plan.card.production.access)
    used = {w.kind.access or "ground" for w in part.works.values()} - set(table)
    if not table or not used:
        return []
    detail = f"the production table has no factor for {', '.join(sorted(used))}, taken as 1"
    return [Remark("access_without_factor", "warning", "", detail)]


def job_remarks(request: Request) -> list[Remark]:
    """Remarks on the request as a whole."""
    found = []
    if request.exemption_certificate is not None:
        detail = f"sales tax is left out by exemption certificate {request.exemption_certificate}"
        found.append(Remark("tax_exempt", "to_know", "/exemption_certificate", detail))
    if request.no_primer_reason is not None:
        detail = f"tape on gypsum is priced without primer: {request.no_primer_reason}"
        found.append(Remark("no_primer", "warning", "/no_primer_reason", detail))
    lines = request.schedule.lines
    left_out = [i for i, x in enumerate(lines) if not x.priced] if len(request.schedule.priced) < len(lines) else []
    if left_out:
        shown = "1 line is" if len(left_out) == 1 else f"{len(left_out)} lines are"
        detail = f"{shown} shown and priced 0 (excluded or alternates): {naming([lines[i] for i in left_out])}"
        found.append(Remark("not_priced", "to_know", f"/openings/{left_out[0]}", detail))
    return found


def schedule_remarks(request: Request) -> list[Remark]:
    """What the schedule leaves open."""
    return [Remark(q.code, q.severity, q.pointer, q.detail) for q in request.questions.told]


def remarks(request: Request, parts: Sequence[Part]) -> tuple[Remark, ...]:
    """Every remark, questions first, each subject once."""
    found = [*schedule_remarks(request), *unknown_external(request), *duplicates(request), *job_remarks(request)]
    for part in parts:
        found += kind_remarks(request, part)
        found += (
            film_remarks(part)
            + cut_plan_remarks(part)
            + turn_remarks(part)
            + weep_remarks(request, part)
            + idle_remarks(part)
            + access_remarks(part)
        )
    rank = {"question": 0, "warning": 1, "to_know": 2}
    return tuple(sorted(dict.fromkeys(found), key=lambda remark: rank[remark.severity]))
