"""Estimates as they are shown: the whole document, a line of a list, one part, one figure's derivation."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import QuerySet

from estimating import snapshots
from estimating.collector import collector_paused
from estimating.core.derivation import derive as derive_figure
from estimating.core.estimate import Estimate as CostedEstimate
from estimating.core.job import cost
from estimating.jobs import stored
from estimating.models import Estimate as EstimateRow
from estimating.outputs.check_rows import estimate_checks
from estimating.outputs.figure_pages import FigurePages
from estimating.outputs.price_rows import breakout_rows, unit_price_rows
from estimating.outputs.purchase_list import purchase_rows
from estimating.outputs.variant_rows import accepted_row, alternate_rows, method_rows
from estimating.queries.assumptions import assumption_rows
from estimating.queries.projects import read_place
from rates.core.jsontext import read_json
from rates.core.problems import Problem, Refused
from rates.paging import Page, Wanted, write_cursor
from rates.refusals import Conflict, NotThere

PARTS = (
    "openings",
    "materials",
    "equipment",
    "hours",
    "pieces",
    "cost-codes",
    "methods",
    "alternates",
    "per-area",
    "assumptions",
    "checks",
    "breakouts",
    "unit-prices",
    "cut-plan",
    "purchase-list",
    "calendar",
    "crew",
)
VARIANTS = {
    "methods": method_rows,
    "alternates": alternate_rows,
    "breakouts": breakout_rows,
    "purchase-list": purchase_rows,
}
MADE_OF = VARIANTS | {"checks": estimate_checks}
UNIT_PRICES = "unit-prices"
COMPUTED = (*VARIANTS, "assumptions", UNIT_PRICES)  # when asked for
CHECKS, CAUTIONS = "checks", "cautions"  # kept apart from the document too


@dataclass(frozen=True)
class Estimate:
    """One estimate with its document: bytes as stored once costed, else what is known so far."""

    id: uuid.UUID
    state: str
    document: bytes | Mapping[str, Any]
    tag: str


def describe(row: EstimateRow, answer: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """The estimate document: what the service knows, with the core's answer where there is one."""
    run = row.run
    known = dict(answer or {})
    total = run.total if answer is None else max(run.total, 1)
    return {
        "scope": known.get("scope"),
        "id": str(row.pk),
        "state": run.state if answer is None else "costed",
        "progress": {"done": run.done if answer is None else total, "total": total, "step": run.step},
        "project": str(row.project_id) if row.project_id else None,
        "number": row.number,
        "schedule": describe_schedule(row),
        "edition": {
            "id": str(row.edition_id),
            "number": row.edition.number,
            "effective_from": row.edition.effective_from.isoformat(),
        },
        "editions": known.get("editions", []),
        "layers": known.get("layers", []),
        "work_date": row.work_date.isoformat(),
        "known_at": write_time(row.known_at),
        "currency": known.get("currency", row.currency),
        "units": known.get("units"),
        "totals": known.get("totals"),
        "build_up": known.get("build_up", []),
        "by_mark": known.get("by_mark", []),
        "remarks": known.get("remarks", []),
        "checks": known.get("checks", []),
        "cautions": known.get("cautions", []),
        "input_digest": known.get("input_digest"),
        "engine_version": known.get("engine_version"),
        "problems": row.problems or [],
        "reason": run.reason or None,
        "created_at": write_time(row.created_at),
        "costed_at": write_time(row.costed_at),
    }


def describe_schedule(row: EstimateRow) -> dict[str, Any] | None:
    """The schedule revision that an estimate was costed from, None for inline openings."""
    if row.schedule is None:
        return None
    return {
        "id": str(row.schedule_id),
        "revision": row.schedule.number,
        "drawing_issue": row.schedule.drawing_issue,
    }


def write_time(moment: datetime.datetime | None) -> str | None:
    """RFC 3339 in UTC, or None."""
    return moment.astimezone(datetime.UTC).isoformat().replace("+00:00", "Z") if moment else None


def rows_with_names(company: uuid.UUID) -> QuerySet[EstimateRow]:
    """Rows with all that the document names, without the big columns."""
    rows = EstimateRow.objects.of(company).select_related("run", "schedule", "edition")
    return rows.defer("request", "schedule__source", "schedule__openings", "edition__document")


def estimate(*, company: uuid.UUID, id: uuid.UUID, whole: bool = True) -> Estimate:
    """One estimate, or of one with many marks only the first; NotThere."""
    read = snapshots.read_summary if whole else snapshots.read_beginning
    body = read(company=company, estimate=id)
    if body is not None:
        return Estimate(id, "costed", body, f"{id.hex}-costed")
    row = rows_with_names(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    run = row.run
    if run.state == "costed":  # it has ended between the two reads
        return estimate(company=company, id=id, whole=whole)
    return Estimate(id, run.state, describe(row), f"{id.hex}-{run.state}-{run.attempt}-{run.done}-{run.step}")


def state(*, company: uuid.UUID, id: uuid.UUID) -> str:
    """The state of one estimate; NotThere."""
    found = EstimateRow.objects.of(company).filter(pk=id).values_list("run__state", flat=True).first()
    if found is None:
        raise NotThere
    return str(found)


def project_of(*, company: uuid.UUID, id: uuid.UUID) -> uuid.UUID | None:
    """The project of an estimate, None for one of no project; NotThere."""
    found = EstimateRow.objects.of(company).filter(pk=id).values_list("project_id").first()
    if found is None:
        raise NotThere
    project: uuid.UUID | None = found[0]
    return project


def part(*, company: uuid.UUID, id: uuid.UUID, name: str) -> Any:
    """One whole part of a costed estimate as JSON text, or a list of items; NotThere, Conflict until costed."""
    require_costed(company, id)
    if is_computed(company, id, name):
        return computed(company, id, name)
    if snapshots.is_list(company=company, estimate=id, name=name):
        return snapshots.read_items(company=company, estimate=id, name=name, start=0, limit=None)
    body = snapshots.read_bytes(company=company, estimate=id, name=name)
    if body is None:
        raise Conflict("part_missing", f"the request of this estimate asks for no {name}")
    return body


def is_list(*, company: uuid.UUID, id: uuid.UUID, name: str) -> bool:
    """Whether the part of a costed estimate is a list; NotThere, Conflict until costed."""
    require_costed(company, id)
    return name in (*COMPUTED, CHECKS) or snapshots.is_list(company=company, estimate=id, name=name)


def is_computed(company: uuid.UUID, id: uuid.UUID, name: str) -> bool:
    """Whether a part is made when asked for: checks only of estimates costed before they were told."""
    return name in COMPUTED or (name == CHECKS and not snapshots.is_list(company=company, estimate=id, name=name))


def cautions(*, company: uuid.UUID, id: uuid.UUID) -> list[str]:
    """What stands beside the lists of a costed estimate; those of its document where they are not kept apart."""
    if snapshots.is_list(company=company, estimate=id, name=CAUTIONS):
        return snapshots.read_items(company=company, estimate=id, name=CAUTIONS, start=0, limit=None)
    body = snapshots.read_beginning(company=company, estimate=id)
    document: Any = read_json(body.decode()) if body is not None else {"cautions": ()}
    return list(document["cautions"])


def parts_with_content(*, company: uuid.UUID, id: uuid.UUID) -> frozenset[str]:
    """The stored parts of an estimate that hold something; none of one that is not costed."""
    return snapshots.names_with_content(company=company, estimate=id)


def part_page(*, company: uuid.UUID, id: uuid.UUID, name: str, wanted: Wanted) -> Page[Any]:
    """A page of a list part of a costed estimate; NotThere, Conflict until costed."""
    require_costed(company, id)
    start = read_place(wanted.cursor)
    if name == UNIT_PRICES:
        with collector_paused():
            rows, left = unit_price_rows(costed_again(company, id), start, wanted.limit)
        return Page(tuple(rows), write_cursor(start + len(rows)) if left else None)
    if is_computed(company, id, name):
        items = computed(company, id, name)[start : start + wanted.limit + 1]
    else:
        items = snapshots.read_items(company=company, estimate=id, name=name, start=start, limit=wanted.limit + 1)
    more = len(items) > wanted.limit
    return Page(tuple(items[: wanted.limit]), write_cursor(start + wanted.limit) if more else None)


def computed(company: uuid.UUID, id: uuid.UUID, name: str) -> list[Any]:
    """What is costed again to be told: the job by each method, with each alternate; what it assumes."""
    with collector_paused():
        if name == "assumptions":
            return list(assumption_rows(company=company, id=id))
        return list(MADE_OF[name](costed_again(company, id)))


def costed_again(company: uuid.UUID, id: uuid.UUID) -> CostedEstimate:
    """A costed estimate computed again from what is stored."""
    return cost(stored(EstimateRow.objects.of(company).get(pk=id)).job())


def accepted(*, company: uuid.UUID, id: uuid.UUID, names: Collection[str]) -> Page[Any]:
    """A costed estimate with several alternates accepted together; NotThere, Conflict, Refused for an unknown name."""
    require_costed(company, id)
    try:
        with collector_paused():
            return Page((accepted_row(costed_again(company, id), names),), None)
    except KeyError as unknown:
        detail = f'the schedule of this estimate has no alternate "{unknown.args[0]}"'
        raise Refused([Problem("/query/accept", "unknown_alternate", detail)]) from None


def require_costed(company: uuid.UUID, id: uuid.UUID) -> None:
    """Conflict unless the estimate is costed; NotThere."""
    found = state(company=company, id=id)
    if found != "costed":
        raise Conflict("not_costed", f"this estimate is {found}; its parts are there once it is costed")


def derivation(*, company: uuid.UUID, id: uuid.UUID, figure: str, depth: int) -> dict[str, Any]:
    """How one figure of a costed estimate was reached, computed again from the snapshot; NotThere, Conflict."""
    require_costed(company, id)
    row = EstimateRow.objects.of(company).get(pk=id)
    try:
        with collector_paused():
            return derive_figure(cost(stored(row).job()), figure, depth)
    except KeyError:
        raise NotThere from None


def figure_page(
    *, company: uuid.UUID, id: uuid.UUID, figure: str, trail: Sequence[str], start: int, count: int
) -> dict[str, Any]:
    """One step of how a figure was reached, folded for a reader, with so many of its inputs; NotThere, Conflict."""
    require_costed(company, id)
    kept = stored(EstimateRow.objects.of(company).get(pk=id))
    try:
        with collector_paused():
            return FigurePages(cost(kept.job()), kept.request).page(figure, trail, start, count)
    except KeyError:
        raise NotThere from None
