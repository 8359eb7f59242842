"""What the price would be under changed fields of an estimate's request: computed and told, stored nowhere.

The changed request is priced by the rates that were known when the estimate was made, so that nothing but the change
moves the price; naming `known_at`, an edition or another rate book changes that too.

Some values stand in the opening lines alone, access among them, so that no field of the request can change them. Those
are given as `lines`: one value for every opening, in place of what its line says.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from typing import Any

import orjson

from estimating.actions.preparation import prepare
from estimating.collector import collector_paused
from estimating.core.estimate import Estimate as Costed
from estimating.core.job import cost
from estimating.core.request_reading import read_request as read_fields
from estimating.jobs import for_core
from estimating.models import Estimate
from estimating.outputs.answer import totals
from estimating.queries.climates import with_climate
from estimating.queries.estimates import require_costed, write_time
from estimating.queries.line_values import of_estimate
from estimating.snapshots import read_beginning
from rates.core.fields import Field, Record, choice
from rates.core.merge_patch import merge_patch
from rates.core.money import print_money
from rates.core.problems import Problem, Refused, escape
from rates.core.tables import ACCESS
from rates.core.texts import counted
from rates.documents import unpack

MOST_LINES = 10_000  # what a web process computes while somebody waits
PRICED_BY = ("edition", "hold", "rate_book")  # one of them prices a request
# What says that the change can't be read, as against one that is understood and can't be priced
UNREADABLE = frozenset(
    {
        "not_found", "not_text", "missing", "edition_or_rate_book", "schedule_or_openings", "other_project",
        "not_a_time", "in_the_future", "not_approved",
    }
)  # fmt: skip
LINES = "lines"  # the name in the change of what holds for every opening
EVERY_LINE = Record(
    lambda **v: {name: value for name, value in v.items() if value is not None},
    (Field("access", choice(*ACCESS), "how every opening is reached, in place of what its line says"),),
    title="EveryLine",
)


@dataclass(frozen=True)
class ChangedValue:
    """One value of the request that the change moves, at its JSON Pointer.

    Of what changes in every line, `before` has each value with the openings that it holds for, null where lines leave
    it out.
    """

    pointer: str
    before: Any
    after: Any


@dataclass(frozen=True)
class PricedSide:
    """What is shown of either side: money in the estimate's currency, hours as standard worker-hours."""

    price: str
    price_per_opening: str | None
    openings: int
    hours: str
    crew_days: str

    @staticmethod
    def of(totals: Mapping[str, Any]) -> PricedSide:
        """A side from the totals of an estimate's document."""
        return PricedSide(**{field.name: totals[field.name] for field in fields(PricedSide)})


@dataclass(frozen=True)
class WhatIfFault:
    """Why the changed request can't be priced, at its JSON Pointer."""

    pointer: str
    code: str
    detail: str


@dataclass(frozen=True)
class WhatIf:
    """Both prices side by side. Of what can't be priced only the reason is known, and every fault of it."""

    estimate: uuid.UUID
    currency: str
    changed: tuple[ChangedValue, ...]
    before: PricedSide
    after: PricedSide | None
    difference: str | None
    feasible: bool
    reason: str | None
    problems: tuple[WhatIfFault, ...]


def what_if(
    *, company: uuid.UUID, id: uuid.UUID, patch: Mapping[str, Any], units: str, now: datetime.datetime
) -> WhatIf:
    """The price of a costed estimate's request with the merge patch in it; NotThere, Conflict, Refused.

    The patch may have `lines` beside the fields of the request.
    """
    before = read_side(company, id)
    row = Estimate.objects.of(company).select_related("run").get(pk=id)
    refuse_many(row.run.total)
    request = unpack(row.request)
    faults: list[Problem] = []
    said = patch.get(LINES)
    lines = EVERY_LINE.read({} if said is None else said, f"/{LINES}", faults)
    patch = {name: value for name, value in patch.items() if name != LINES}
    wanted = with_climate(company=company, request=with_patch(request, patch))
    faults += read_fields(for_core(wanted, []))[1]
    if faults:
        raise Refused(faults)
    changed = (*differences(request, wanted, ""), *line_differences(company, id, lines))
    told = (id, row.currency, changed, before)
    try:
        found = price(company, {"known_at": write_time(row.known_at)} | wanted, units, now, lines)
    except Refused as refusal:
        if any(fault.code in UNREADABLE for fault in refusal.problems):
            raise
        problems = tuple(WhatIfFault(f.pointer, f.code, f.detail) for f in refusal.problems)
        reason = "; ".join(dict.fromkeys(f.detail for f in refusal.problems))
        return WhatIf(*told, None, None, False, reason, problems)
    if found.till.currency != row.currency:
        reason = f"these rates are in {found.till.currency}, and the estimate is in {row.currency}"
        return WhatIf(*told, None, None, False, reason, ())
    difference = print_money(found.up.price_minor - int(row.price_minor or 0), row.currency)
    return WhatIf(*told, PricedSide.of(totals(found)), difference, True, None, ())


def read_side(company: uuid.UUID, id: uuid.UUID) -> PricedSide:
    """The sums of a costed estimate as its document has them; NotThere, Conflict."""
    require_costed(company, id)
    summary = read_beginning(company=company, estimate=id)
    assert summary is not None
    return PricedSide.of(orjson.loads(summary)["totals"])


def with_patch(request: Mapping[str, Any], patch: Mapping[str, Any]) -> dict[str, Any]:
    """The request with the patch in it; what prices it gives way to another that is named."""
    named = [name for name in PRICED_BY if patch.get(name) is not None]
    kept = {name: value for name, value in request.items() if not named or name not in PRICED_BY}
    merged: dict[str, Any] = merge_patch(kept, patch)
    return merged


def price(
    company: uuid.UUID, request: Mapping[str, Any], units: str, now: datetime.datetime, lines: Mapping[str, Any]
) -> Costed:
    """The request costed, with these values in every line; Refused."""
    ready = prepare(company=company, request=request, units=units, now=now, lines=lines)
    refuse_many(ready.lines)
    with collector_paused():
        return cost(ready.job)


def refuse_many(lines: int) -> None:
    """Refused for more lines than are computed while somebody waits."""
    if lines > MOST_LINES:
        detail = f"this is computed for up to {counted(MOST_LINES, 'line')}; make an estimate of it"
        raise Refused([Problem("", "too_many_lines", detail)])


def differences(before: object, after: object, pointer: str) -> Iterator[ChangedValue]:
    """Every value that differs, at its pointer; lists are told whole."""
    if isinstance(before, Mapping) and isinstance(after, Mapping):
        for name in dict.fromkeys([*before, *after]):
            yield from differences(before.get(name), after.get(name), pointer + escape(name))
    elif before != after:
        yield ChangedValue(pointer, before, after)


def line_differences(company: uuid.UUID, estimate: uuid.UUID, lines: Mapping[str, Any]) -> Iterator[ChangedValue]:
    """Every value that is not in all lines what `lines` has for them."""
    for said in of_estimate(company=company, id=estimate) if lines else ():
        after = lines.get(said.field)
        if after is not None and any(one.value != after for one in said.values):
            before = [{said.field: one.value, "openings": one.openings} for one in said.values]
            yield ChangedValue(f"/{LINES}/{said.field}", before, after)
