"""Comparisons of two estimates, as they are shown."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

from estimating.models import Comparison as ComparisonRow
from estimating.queries.estimates import write_time
from estimating.queries.matches import CONFIRMED, REJECTED
from estimating.states import RunState
from rates.documents import unpack
from rates.paging import Page, Wanted, page
from rates.refusals import NotThere


@dataclass(frozen=True)
class Comparison:
    """One comparison with its document."""

    id: uuid.UUID
    state: str
    document: Mapping[str, Any]

    @property
    def tag(self) -> str:
        return f"{self.id.hex}-{self.state}"


@dataclass(frozen=True)
class ComparisonLine:
    """One comparison in a list."""

    id: uuid.UUID
    state: str
    before_estimate: uuid.UUID
    after_estimate: uuid.UUID
    attribution: str
    smooth: bool
    created_at: datetime.datetime
    compared_at: datetime.datetime | None


def show_comparison(row: ComparisonRow) -> Comparison:
    """A comparison's row as shown, with the causes once it is computed."""
    computed = unpack(row.document) if row.document is not None else {}
    head = {
        "id": str(row.pk),
        "state": row.run.state,
        "estimates": {"before": str(row.before_id), "after": str(row.after_id)},
        "attribution": row.choices["attribution"],
        "order": row.choices["order"],
        "smooth": row.choices["smooth"],
        "matches": [show_match(kept) for kept in row.choices.get("matches", ())],
        "problems": row.problems or [],
        "reason": row.run.reason or None,
        "created_at": write_time(row.created_at),
        "compared_at": write_time(row.compared_at),
    }
    return Comparison(row.pk, row.run.state, head | computed)


def show_match(kept: Mapping[str, Any]) -> dict[str, Any]:
    """A decision that the comparison was computed with, its lines numbered from 1 as those of the comparison are."""
    return {
        "line_before": kept["before"] + 1,
        "line_after": kept["after"] + 1,
        "state": CONFIRMED if kept["same"] else REJECTED,
        "decided_by": kept["decided_by"],
        "decided_at": kept["decided_at"],
    }


def comparison(*, company: uuid.UUID, id: uuid.UUID) -> Comparison:
    """One comparison; NotThere."""
    row = ComparisonRow.objects.of(company).select_related("run").filter(pk=id).first()
    if row is None:
        raise NotThere
    return show_comparison(row)


@dataclass(frozen=True)
class Compared:
    """A computed comparison of two estimates of a project, by their numbers."""

    id: uuid.UUID
    before: int
    after: int


def compared_in(*, company: uuid.UUID, project: uuid.UUID, most: int) -> list[Compared]:
    """The newest comparisons that were computed of two estimates of a project."""
    rows = ComparisonRow.objects.of(company).filter(before__project=project, after__project=project)
    rows = rows.filter(run__state=RunState.COSTED).order_by("-run_id")
    found = rows.values_list("pk", "before__number", "after__number")[:most]
    return [Compared(id, cast(int, before), cast(int, after)) for id, before, after in found]  # costed, so numbered


def show_line(row: ComparisonRow) -> ComparisonLine:
    """A comparison's row as a line of a list."""
    return ComparisonLine(
        id=row.pk,
        state=row.run.state,
        before_estimate=row.before_id,
        after_estimate=row.after_id,
        attribution=row.choices["attribution"],
        smooth=row.choices["smooth"],
        created_at=row.created_at,
        compared_at=row.compared_at,
    )


def comparisons(*, company: uuid.UUID, wanted: Wanted) -> Page[ComparisonLine]:
    """The company's comparisons."""
    rows = ComparisonRow.objects.of(company).select_related("run").defer("document")
    return page(rows, wanted, orderings={"created_at": "run_id"}, show=show_line)
