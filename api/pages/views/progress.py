"""How far a job is by what its crew told, for the office; the links by which crews tell it; a record withdrawn."""

from __future__ import annotations

import datetime
import uuid
from typing import Any

from api.job_record_fields import NEW_SITE_LINK, WITHDRAWAL
from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import Input, make_form
from api.pages.views.estimates import head
from api.pages.views.on_site import STEP_WORDS
from api.pages.views.quote_drafts import read_form
from estimating.actions import job_records as actions
from estimating.actions import site_links as link_actions
from estimating.outputs.pictures.of_documents import picture_of_progress
from estimating.queries import job_records as queries
from estimating.queries import site_links
from rates.core.problems import Problem, Refused
from rates.paging import Wanted
from rates.refusals import Expected

SHOWN = 100
MOST_DAYS = 366
TITLE = Input("title", "For whom", hint="The crew or its foreman.", needed=True)
DAYS = Input("days", "Days that it lets in", "number", value="60", needed=True, pointer="/expires_at")
REASON = Input("reason", "Why it is withdrawn")


def show(visit: Visit) -> Show:
    """GET /estimates/{id}/progress."""
    values = head(visit) | {"part": "progress", "words": STEP_WORDS, "now": visit.now}
    if values["estimate"]["state"] == "costed":
        cautions = values["estimate"]["cautions"]
        found = queries.job_progress(company=visit.company, id=visit.id, cautions=cautions)
        newest = Wanted(SHOWN, None, "-day")
        records = queries.job_records(company=visit.company, wanted=newest, filter=queries.Filter(visit.id))
        values |= {"found": visit.see("estimate-progress", found), "records": records.items}
        values["picture"] = picture_of_progress(found) if found.days else None
        if visit.may("estimate"):
            values["links"] = site_links.site_links(
                company=visit.company, wanted=newest_links(), estimate=visit.id
            ).items
    form = make_form((TITLE, DAYS, REASON), typed=visit.typed, faults=visit.faults)
    return Show("estimates/progress_of_job.html", values | {"form": form})


def newest_links() -> Wanted:
    """The newest links first."""
    return Wanted(SHOWN, None, "-created_at")


def send(visit: Visit) -> Change:
    """POST: a link given out, or revoked; a record withdrawn."""
    for name, change in (("revoke", revoke), ("withdraw", withdraw)):
        if visit.typed.get(name):
            return change(visit, visit.uuid_of(visit.typed[name]))
    return give(visit)


def give(visit: Visit) -> Change:
    """A link, whose address is shown this once."""
    days = visit.typed.get("days", "").strip()
    if not (days.isascii() and days.isdigit() and 0 < int(days[:6]) <= MOST_DAYS):
        raise Refused([Problem("/expires_at", "out_of_bounds", f"1 to {MOST_DAYS} days")])
    ends = (visit.now + datetime.timedelta(days=int(days))).isoformat()
    typed = {"estimate": str(visit.id), "title": visit.typed.get("title", "").strip() or None, "expires_at": ends}
    said = read_form(NEW_SITE_LINK, {name: value for name, value in typed.items() if value})

    def act() -> Made:
        made = link_actions.give(company=visit.company, member=visit.caller.member, now=visit.now, **said)
        address = visit.request.build_absolute_uri(made.site_address)
        shown = Show("estimates/link_given.html", head(visit) | {"link": made.link, "address": address})
        return Made(back(visit), made.link.id, after=made.link, shown=shown)

    return Change("make-site-link", act)


def back(visit: Visit) -> str:
    """The page itself."""
    return f"/estimates/{visit.id}/progress"


def revoke(visit: Visit, id: uuid.UUID) -> Change:
    """A link that lets nobody in from now on."""

    def act() -> Made:
        expected = Expected(None)
        made = link_actions.revoke(company=visit.company, id=id, expected=expected, now=visit.now)
        return Made(back(visit), id, before=expected.seen, after=made)

    return Change("revoke-site-link", act)


def withdraw(visit: Visit, id: uuid.UUID) -> Change:
    """A record that counts no more."""
    said: dict[str, Any] = read_form(WITHDRAWAL, {"reason": visit.typed.get("reason", "").strip() or None})

    def act() -> Made:
        expected = Expected(None)
        made = actions.withdraw(
            company=visit.company, member=visit.caller.member, id=id, reason=said["reason"], expected=expected,
            now=visit.now,
        )  # fmt: skip
        return Made(back(visit), id, before=expected.seen, after=made)

    return Change("withdraw-job-record", act)
