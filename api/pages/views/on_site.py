"""The crew's pages: the zones of an estimate in working order, and a day's work told for one of them.

They are reached by a link without a sign-in (`/on-site/…`) or by who has signed in (`/estimates/…/zones`), and show no
money to either. Script keeps what is told while there is no signal and sends it once (static/site.js).
"""

from __future__ import annotations

from typing import Any

from api.job_record_fields import NEW_JOB_RECORD
from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import Input, make_form
from api.pages.views.quote_drafts import read_form
from estimating.actions import job_records as actions
from estimating.core.job_progress import SET_UP, STEPS
from estimating.queries import site_work as queries
from estimating.queries.quotes import today_of
from rates.refusals import NotThere

STEP_WORDS = {
    "first_coat": "First coat",
    "second_coat": "Second coat",
    "both_coats": "Both coats",
    "tape": "Tape",
    "joints": "Sheathing joints",
    SET_UP: "Set-up",
}


def base_of(visit: Visit) -> str:
    """The address of the list of zones, as the visitor came."""
    token = visit.places.get("token")
    return f"/on-site/{token}" if token else f"/estimates/{visit.id}/zones"


def head(visit: Visit) -> dict[str, Any]:
    """What both pages show."""
    work = queries.site_work(company=visit.company, id=visit.id)
    return {"work": work, "base": base_of(visit), "by_link": "token" in visit.places, "words": STEP_WORDS}


def listing(visit: Visit) -> Show:
    """GET /on-site/{token}, /estimates/{id}/zones."""
    return Show("on-site/zones.html", head(visit))


def number_of(visit: Visit) -> int:
    """The zone's number in the address; NotThere for what is none."""
    text = str(visit.places["zone"])
    if not (text.isascii() and text.isdigit() and len(text) < 7):
        raise NotThere
    return int(text)


def show(visit: Visit) -> Show:
    """GET /on-site/{token}/{zone}, /estimates/{id}/zones/{zone}."""
    values, number = head(visit), number_of(visit)
    zone = values["work"].zone(number)
    if zone is None:
        raise NotThere
    choices = [(step, STEP_WORDS[step]) for step in (*(s for s in STEPS if s in zone.steps), SET_UP)]
    today = today_of(visit.company, visit.now).isoformat()
    inputs = (
        Input("step", "What was done", "radio", choices=choices, value=zone.next_step, needed=True),
        Input("day", "Day", "date", value=today, needed=True),
        Input("hours", "Worker-hours", "decimal", hint="All people together: two for three hours are 6.", needed=True),
        Input("note", "Anything to know", "area"),
    )
    counts = [
        Input(f"count-{i}", f"{mark.mark} finished", "number", pointer=f"/counts/{i}")
        for i, mark in enumerate(zone.marks)
    ]
    form = make_form((*inputs, *counts), typed=visit.typed, faults=visit.faults)
    told = queries.last_records(company=visit.company, id=visit.id, zone=number)
    rows = [(mark, form[f"count-{i}"]) for i, mark in enumerate(zone.marks)]
    may_tell = "token" in visit.places or visit.may("estimate")
    around = {"last": len(values["work"].zones), "told": told, "rows": rows, "may_tell": may_tell}
    return Show("on-site/zone.html", values | around | {"zone": zone, "form": form})


def tell(visit: Visit) -> Change:
    """POST of a zone's page: a job record."""
    number = number_of(visit)
    zone = queries.site_work(company=visit.company, id=visit.id).zone(number)
    if zone is None:
        raise NotThere
    typed = visit.typed
    said = {name: typed.get(name, "").strip() or None for name in ("day", "step", "hours", "note")}
    counts = [
        {"mark": mark.mark, "openings": typed.get(f"count-{i}", "").strip() or "0"} for i, mark in enumerate(zone.marks)
    ]
    known = {"estimate": str(visit.id), "zone": number, "counts": counts}
    told = read_form(NEW_JOB_RECORD, {name: value for name, value in said.items() if value is not None} | known)
    ready = actions.prepare(company=visit.company, told=actions.Told(**told), now=visit.now)
    link = visit.caller.key if "token" in visit.places else None

    def act() -> Made:
        made = actions.write(company=visit.company, member=visit.caller.member, ready=ready, now=visit.now, link=link)
        return Made(f"{base_of(visit)}/{number}", made.id, after=made)

    return Change("make-job-record", act)
