"""Job records, how far a job is by them, and links for crews."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping
from typing import Any

from api.job_record_fields import MOST_ROWS, ROW, ROWS
from api.plain import plain
from api.rest.exchange import Answer, Call, listing
from api.rest.reading import MEDIA
from api.sent_sheet import SentSheet
from estimating.actions import job_records as actions
from estimating.actions import site_links as link_actions
from estimating.queries import estimates, job_records, site_links
from rates.core.fields import Faults
from rates.core.problems import Refused
from rates.paging import Page


def records(call: Call) -> Answer:
    """GET /v1/job-records."""
    filter = job_records.Filter(**{name: call.query[name] for name in ("estimate", "day_from", "day_to")})
    return listing(job_records.job_records(company=call.company, wanted=call.wanted, filter=filter))


def make(call: Call) -> Callable[[], Answer]:
    """POST /v1/job-records: read against its estimate before the transaction that stores it."""
    ready = actions.prepare(company=call.company, told=actions.Told(**call.body), now=call.now)

    def store() -> Answer:
        made = actions.write(company=call.company, member=call.caller.member, ready=ready, now=call.now)
        return Answer(made, status=201, tag=made.tag, location=f"/v1/job-records/{made.id}")

    return store


def add_rows(call: Call) -> Callable[[], Answer]:
    """POST /v1/estimates/{id}/job-records: all rows or none; each fault of a CSV at its line and column."""
    faults: Faults = []
    is_csv = call.media_type == MEDIA["csv"]
    sheet = SentSheet.of(call.data, "job-records", ROW.by_name, MOST_ROWS, faults) if is_csv else None
    read = ROWS.read(call.body if sheet is None else {"items": sheet.items}, "", faults)
    try:
        if faults:
            raise Refused(faults)
        told = [told_by(call.id, row) for row in read["items"]]
        ready = actions.prepare_rows(company=call.company, id=call.id, told=told, now=call.now)
    except Refused as refused:
        raise Refused([sheet.placed(fault) for fault in refused.problems] if sheet else refused.problems) from None

    def store() -> Answer:
        company, member = call.company, call.caller.member
        items = [actions.write(company=company, member=member, ready=one, now=call.now) for one in ready]
        return Answer({"items": items}, status=201)

    return store


def told_by(estimate: uuid.UUID, row: Mapping[str, Any]) -> actions.Told:
    """A row as a record of one mark at most."""
    counts = ((row["mark"], row.get("openings", 0)),) if "mark" in row else ()
    named = {name: row[name] for name in ("day", "zone", "step", "hours")}
    return actions.Told(estimate, counts=counts, note=row.get("note", ""), **named)


def show(call: Call) -> Answer:
    """GET /v1/job-records/{id}."""
    found = job_records.job_record(company=call.company, id=call.id)
    return Answer(found, tag=found.tag)


def withdraw(call: Call) -> Answer:
    """POST /v1/job-records/{id}/withdraw."""
    said = {"reason": call.body["reason"], "expected": call.expected, "now": call.now}
    found = actions.withdraw(company=call.company, member=call.caller.member, id=call.id, **said)
    return Answer(found, tag=found.tag)


def progress(call: Call) -> Answer:
    """GET /v1/estimates/{id}/progress: as a table its steps, zone by zone."""
    estimates.require_costed(call.company, call.id)
    cautions = estimates.cautions(company=call.company, id=call.id)
    found = job_records.job_progress(company=call.company, id=call.id, cautions=cautions)
    content = found if call.format == "json" else Page(found.items, None)
    return Answer(content, beside={"cautions": cautions})


def links(call: Call) -> Answer:
    """GET /v1/site-links."""
    return listing(site_links.site_links(company=call.company, wanted=call.wanted, estimate=call.query["estimate"]))


def give_link(call: Call) -> Answer:
    """POST /v1/site-links: the only answer that shows the address."""
    made = link_actions.give(company=call.company, member=call.caller.member, now=call.now, **call.body)
    content: dict[str, Any] = plain(made.link) | {"site_address": made.site_address}
    return Answer(content, status=201, tag=made.link.tag, location=f"/v1/site-links/{made.link.id}", secret=True)


def show_link(call: Call) -> Answer:
    """GET /v1/site-links/{id}."""
    found = site_links.site_link(company=call.company, id=call.id)
    return Answer(found, tag=found.tag)


def revoke_link(call: Call) -> Answer:
    """DELETE /v1/site-links/{id}."""
    found = link_actions.revoke(company=call.company, id=call.id, expected=call.expected, now=call.now)
    return Answer(status=204, changed=found)
