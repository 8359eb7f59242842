"""What the pages show beside the demo, made over the API: a schedule that asks, quotes, rates, change orders, links."""

from __future__ import annotations

import datetime
import uuid
from pathlib import Path
from typing import Any

from tests.browser.office import Office
from tests.corpus.built import build
from tests.corpus.schedule import read_schedule

CORPUS = Path(__file__).resolve().parent.parent / "corpus" / "schedules"
MESSY = "012-section-headings-scope"
MEDIA = "application/octet-stream"


def messy_file() -> bytes:
    """A schedule of the corpus that asks before it can be costed."""
    return build(read_schedule(CORPUS / f"{MESSY}.yaml"))


def post(office: Office, path: str, body: Any, **fields: str) -> Any:
    """What the API answers to a change."""
    status, found, _ = office.api.send("POST", path, body, **fields)
    assert status in (200, 201), found
    return found


def items(office: Office, path: str) -> list[Any]:
    """The items of a list of the API."""
    return list(office.api.get(path)[1]["items"])


TEXTS = {
    "inclusions": [
        {"code": "fluid", "text": "Two coats of fluid-applied flashing at sill, jambs and head.", "when": []},
        {"code": "primer", "text": "Primer where the product data sheet asks for it.", "when": []},
    ],
    "exclusions": [
        {"code": "permits", "text": "Permits, fees and inspections.", "when": []},
        {"code": "repair", "text": "Repair of sheathing and framing.", "when": []},
        {"code": "power", "text": "Power and water at the work.", "when": []},
    ],
    "clarifications": [{"code": "days", "text": "Priced for working days, 7 am to 4 pm.", "when": []}],
    "terms": "Thirty days net. Retainage as the contract has it.",
    "letterhead": ["12 Mill Road, Northfield (invented)"],
}


def step(office: Office, quote: str, name: str, body: Any = None) -> Any:
    """A step of a quote taken."""
    path = f"/v1/quotes/{quote}"
    _, _, fields = office.api.send("GET", path)
    return post(office, f"{path}/{name}", body, If_Match=fields["ETag"])


def sign(office: Office, estimate: str) -> None:
    """Every assumption of an estimate signed."""
    path = f"/v1/estimates/{estimate}/sign-offs"
    waiting = [one["assumption"] for one in office.api.get(path)[1]["items"] if one["state"] == "open"]
    post(office, path, {"sign": waiting})


def quote_of(office: Office, estimate: str, **said: Any) -> str:
    """The id of a new draft."""
    address = ["12 Mill Road", "Northfield"]
    customer = {"name": "Northfield Builders (invented)", "contact": "A. Mason", "address": address}
    body = {"estimate": estimate, "customer": customer} | said
    return str(post(office, "/v1/quotes", body, Idempotency_Key=str(uuid.uuid4()))["id"])


def prepare_quotes(office: Office, clinic: Any, estimates: list[Any]) -> dict[str, str]:
    """Ids of a quote that is out, of its draft anew, of a draft that waits, of two that ended; a bid that is due."""
    principal = office.api_of("principal")
    _, _, fields = principal.send("GET", "/v1/quote-texts")
    principal.send("PUT", "/v1/quote-texts", TEXTS, If_Match=fields["ETag"])
    _, _, fields = principal.send("GET", f"/v1/projects/{clinic['id']}")
    due = (datetime.datetime.now(datetime.UTC) + datetime.timedelta(hours=30)).isoformat(timespec="seconds")
    principal.send("PATCH", f"/v1/projects/{clinic['id']}", {"due_at": due}, If_Match=fields["ETag"])
    for one in estimates:
        sign(office, one["id"])
    addenda = [{"name": "Addendum 1", "acknowledged_on": "2027-01-05"}]
    issued = quote_of(office, estimates[0]["id"], addenda=addenda)
    step(office, issued, "issue")
    anew = post(office, f"/v1/quotes/{issued}/requote", {"estimate": estimates[1]["id"]})["id"]
    hall = next(one for one in items(office, "/v1/projects?limit=500") if one["name"].startswith("Residence"))
    first, second = items(office, f"/v1/projects/{hall['id']}/estimates")[:2]
    waiting = quote_of(office, first["id"], discount_percent="12")
    lost = quote_of(office, second["id"])
    sign(office, second["id"])
    step(office, lost, "issue")
    step(office, lost, "close", {"reason": "Another was earlier on site.", "competing_price": "41000.00"})
    won = quote_of(office, second["id"])
    step(office, won, "issue")
    step(office, won, "award", {"reason": "By telephone."})
    orders = prepare_orders(office, hall["id"], won)
    person = next(one for one in principal.get("/v1/members")[1]["items"] if one["role"] == "viewer")
    return (
        orders
        | {"person": person["id"], "key": principal.get("/v1/access-keys")[1]["items"][0]["id"]}
        | {"issued": issued, "anew": anew, "waiting": waiting, "lost": lost, "won": won}
    )


def prepare_orders(office: Office, project: str, quote: str) -> dict[str, str]:
    """Ids of the contract's project, of a change order that is open, and of one that is agreed."""
    path = f"/v1/projects/{project}/change-orders"
    notice = {"known_on": "2027-04-01", "days": 10, "counted": "working", "holidays": ["2027-04-05"]}
    ticket = {"labour": [{"labour": "mechanic", "hours": "8"}], "materials": [{"title": "Sealant", "cost": "120.00"}]}
    terms = {"description": "By telephone, the north stair.", "notice": notice, "quote": quote}
    opened = post(office, path, {"title": "Sill pans at the stair", "time_and_material": ticket} | terms)
    agreed = post(office, path, {"title": "Collars at the roof", "time_and_material": ticket, "quote": quote})
    post(office, path, {"title": "Doors that come later", "quote": quote})
    _, _, fields = office.api.send("GET", f"/v1/change-orders/{agreed['id']}")
    said = {"reason": "Letter of 3 April"}
    post(office, f"/v1/change-orders/{agreed['id']}/agree", said, If_Match=fields["ETag"])
    return {"contract": project, "order": opened["id"], "agreed": agreed["id"]}


def prepare_rates(office: Office) -> dict[str, str]:
    """Ids of the book, of the edition in force, of a draft with dearer mesh, and of one that waits for approval."""
    book = items(office, "/v1/rate-books")[0]["id"]
    path = f"/v1/rate-books/{book}/editions"
    held = next(one for one in items(office, path) if one["state"] == "approved")["id"]
    made = []
    for day in ("2031-01-01", "2032-01-01"):
        copy = {"from": held, "effective_from": day, "note": "Mesh is dearer by letter (invented)."}
        made.append(post(office, path, copy)["id"])
        _, _, fields = office.api.send("GET", f"/v1/editions/{made[-1]}")
        formula = {"table": "materials", "price": "price", "role": "mesh", "change": "+4 %"}
        changed = {"formula": formula, "preview": False}
        post(office, f"/v1/editions/{made[-1]}/change-prices", changed, If_Match=fields["ETag"])
    _, _, fields = office.api.send("GET", f"/v1/editions/{made[-1]}")
    post(office, f"/v1/editions/{made[-1]}/submit", None, If_Match=fields["ETag"])
    return {"book": book, "held": held, "draft_edition": made[0], "submitted": made[1]}


def prepare_site(office: Office, estimate: str) -> dict[str, str]:
    """The address of a crew's link, and the estimate of which something was told."""
    ends = (datetime.datetime.now(datetime.UTC) + datetime.timedelta(days=30)).isoformat()
    link = post(office, "/v1/site-links", {"estimate": estimate, "title": "Crew of Ada (invented)", "expires_at": ends})
    first = items(office, f"/v1/estimates/{estimate}/progress")[0]
    mark = items(office, f"/v1/estimates/{estimate}/openings")[0]["mark"]
    for day, hours in (("2026-03-02", "2.5"), ("2026-03-03", "1.75")):
        told = {"estimate": estimate, "day": day, "zone": 1, "step": first["step"], "hours": hours}
        told["counts"] = [{"mark": mark, "openings": 1}]
        post(office, "/v1/job-records", told, Idempotency_Key=str(uuid.uuid4()))
    return {"site": link["site_address"], "told": estimate}


def prepare(office: Office) -> dict[str, str]:
    """Ids of what the pages show, made over the API where the demo has none."""
    clinic = next(one for one in items(office, "/v1/projects?limit=500") if one["name"].startswith("Clinic"))
    estimates = items(office, f"/v1/projects/{clinic['id']}/estimates")
    before, after = estimates[0]["id"], estimates[1]["id"]
    compared = post(office, "/v1/comparisons", {"before": before, "after": after})
    messy = post(office, "/v1/projects", {"name": "Store with a messy schedule (invented)"})
    schedule = post(
        office, f"/v1/projects/{messy['id']}/opening-schedules?file_name=messy.xlsx", messy_file(), Content_Type=MEDIA
    )
    asked = items(office, f"/v1/opening-schedules/{schedule['id']}/questions?open=true")
    hall = next(one for one in items(office, "/v1/projects?limit=500") if one["name"].startswith("Residence"))
    _, _, fields = office.api.send("GET", "/v1/climates")
    months = [
        {"place": "Northfield", "month": month, "high": "60", "low": "45", "unit": "f", "source": "invented"}
        for month in range(1, 13)
    ]
    office.api.send("PUT", "/v1/climates", {"items": months}, If_Match=fields["ETag"])
    return (
        prepare_site(office, before)
        | {
            "project": clinic["id"],
            "estimate": after,
            "schedule": estimates[1]["schedule"],
            "comparison": compared["id"],
            "planned": items(office, f"/v1/projects/{hall['id']}/estimates")[0]["id"],
            "messy_project": messy["id"],
            "messy": schedule["id"],
            "question": asked[0]["id"],
        }
        | prepare_quotes(office, clinic, estimates)
        | prepare_rates(office)
    )
