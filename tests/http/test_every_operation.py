"""Every operation of the API does what it is for at least once here: a day of an office, from the rates to the audit.

Requests made up from the description seldom get past refusal where rules hold that no schema can say; what they leave
out is done here. The first request of each operation, with its answer, is its example in the description; what an
operation needs is best told by the answers before it (see shell_lines). After a change:

    .venv/bin/python -m tests.http.remake_examples && .venv/bin/python manage.py openapi
"""

from __future__ import annotations

from typing import Any

from api.rest.routes import OPERATIONS
from tests.cast import IN_A_MONTH, PASSWORD, Office
from tests.db.making import golden_request
from tests.http.recording import Noting, Sent, examples, stored
from tests.http.shell_lines import shell_lines
from tests.worked_cases import read_case

TABLES = ("labour", "materials", "equipment", "production", "overheads")
PARTS = ("openings", "materials", "equipment", "hours", "pieces", "cost-codes")
OTHER_PARTS = (
    "methods", "alternates", "per-area", "assumptions", "checks", "breakouts", "unit-prices", "cut-plan",
    "purchase-list", "cut-plan.pdf", "purchase-list.pdf", "calendar", "calendar.ics", "calendar.svg", "crew",
    "crew-sheet.pdf", "workbook.xlsx",
)  # fmt: skip


def work_on_rates(api: Noting, approver: Noting, office: Office) -> None:
    """Editions drafted, filled, sent back, approved, withdrawn, deleted."""
    api.get("/v1/rate-books?limit=1")
    api.get(f"/v1/rate-books/{office.rate_book}/editions?limit=1")
    api.get(f"/v1/editions/{office.edition}/labour")
    book = api.make("/v1/rate-books", {"name": "Rates of a branch"})
    api.send("PATCH", f"/v1/rate-books/{book}", {"note": "new"}, If_Match=api.tag(f"/v1/rate-books/{book}"))
    copy = {"from": str(office.edition), "effective_from": "2027-01-04", "note": "a copy to work on"}

    def draft() -> str:
        return f"/v1/editions/{api.make(f'/v1/rate-books/{office.rate_book}/editions', copy)}"

    tables = read_case("golden", "edition.json")["tables"]
    path = draft()
    for table in TABLES:
        api.send("PUT", f"{path}/{table}", tables[table], If_Match=api.tag(path))
        api.get(f"{path}/{table}")
    for part in ("tables", "steps", "impact", f"changes?from={office.edition}"):
        api.get(f"{path}/{part}")
    api.send("DELETE", path, If_Match=api.tag(path))
    path = draft()
    api.send("PUT", f"{path}/tables", {"labour": tables["labour"]}, If_Match=api.tag(path))
    path = draft()
    formula = {"table": "labour", "price": "wage", "change": "+4 %"}
    api.post(f"{path}/change-prices", {"formula": formula, "preview": False}, If_Match=api.tag(path))
    path = draft()
    api.post(f"{path}/submit", If_Match=api.tag(path))
    approver.post(f"{path}/send-back", {"reason": "see the wage"}, If_Match=api.tag(path))
    path = draft()
    api.post(f"{path}/submit", If_Match=api.tag(path))
    approver.post(f"{path}/approve", {"digest": api.get(path).json()["digest"]}, If_Match=api.tag(path))
    api.get(f"/v1/rate-books/{office.rate_book}/in-force?work_date=2027-06-01")
    approver.post(f"{path}/withdraw", {"reason": "a misprint"}, If_Match=api.tag(path))


def work_on_schedules(api: Noting, office: Office) -> str:
    """The id of a project with two revisions of a schedule, read in every way."""
    project = api.make("/v1/projects", {"name": "Clinic"})
    api.send("PATCH", f"/v1/projects/{project}", {"note": "west wing"}, If_Match=api.tag(f"/v1/projects/{project}"))
    path, openings = f"/v1/projects/{project}/opening-schedules", golden_request(office)["openings"]
    first = api.make(path, openings)
    sheet = "Mark,Qty,Width,Height,Access\nW1,6,48 in,48 in,\nW2,1,36 in,36 in,ground\n"
    made = api.post(path, sheet, Content_Type="text/csv").json()
    second = f"/v1/opening-schedules/{made['id']}"
    request = {name: value for name, value in golden_request(office).items() if name != "openings"}
    costed = api.estimate(request | {"schedule": made["id"]}).json()
    for part in ("openings", "source", "reading", "report", f"changes?from={first}", f"stakes?estimate={costed['id']}"):
        api.get(f"{second}/{part}")
    renumbered = api.make(path, [openings[0] | {"mark": "R1"}, *openings[1:]])
    said = {"from": first, "pairs": [{"before": 0, "after": 0, "same": True}]}
    api.post(f"/v1/opening-schedules/{renumbered}/matches", said)
    question = api.get(f"{second}/questions").json()["items"][0]
    api.post(f"{second}/answers", {"answers": {question["id"]: question["choices"][0]}}, If_Match=api.tag(second))
    edits = [{"line": 1, "change": {"width": "40 in"}, "reason": "measured at the site"}]
    api.post(f"{second}/edits", {"edits": edits})
    api.get("/v1/projects")
    api.get(f"/v1/projects/{project}/opening-schedules")
    return project


def work_on_estimates(api: Noting, office: Office, project: str) -> None:
    """Estimates with every part, one cancelled, two compared, and what an ERP asks for."""
    march = {"place": "Northfield", "month": 3, "high": "44.2", "low": "28.7", "unit": "f", "wet_days": "5.3"}
    api.send("PUT", "/v1/climates", {"items": [march]}, If_Match=api.tag("/v1/climates"))
    months = [{"month": 3, "high": "44.2", "low": "28.7", "wet_days": "5.3"}]
    climate = {"title": "Northfield", "unit": "f", "months": months}  # in the request: it costs where none is loaded
    site = {"holidays": "US-WI", "start": "2027-03-22", "climate": climate}
    by_area = {"wall_area": "2000 ft2", "stated_rate": "3.00", "calendar": site}
    request = golden_request(office) | {"project": project}
    first = api.estimate(request).json()["id"]
    second = api.estimate(request | by_area).json()["id"]
    for part in (*PARTS, *OTHER_PARTS, "derivations/price"):
        api.get(f"/v1/estimates/{second}/{part}")
    api.get("/v1/estimates?ordering=-price&archived=true")
    api.post(f"/v1/estimates/{second}/what-if", {"allocate_by": "touch_minutes"})
    waiting = api.estimate(request, wait=None).json()["id"]
    api.send("DELETE", f"/v1/estimates/{waiting}")
    comparison = api.make("/v1/comparisons", {"before": first, "after": second}, Prefer="wait=10")
    for path in (f"/v1/comparisons/{comparison}", "/v1/comparisons", f"/v1/projects/{project}/estimates", "/v1/feed"):
        api.get(path)
    api.get(f"/v1/estimates/{first}")
    api.get(f"/v1/projects/{project}/history")
    api.get(f"/v1/projects/{project}/history.svg")
    work_on_site(api, first)


def work_on_quotes(api: Noting, office: Office) -> None:
    """Quotes drafted, changed, approved, issued and ended, with their letters; the texts that are kept for them."""
    api.send("PUT", "/v1/quote-texts", {"terms": "Thirty days net."}, If_Match=api.tag("/v1/quote-texts"))
    estimate = api.estimate(golden_request(office)).json()["id"]
    waiting = [x["assumption"] for x in api.get(f"/v1/estimates/{estimate}/sign-offs").json()["items"]]
    api.post(f"/v1/estimates/{estimate}/sign-offs", {"sign": waiting})
    body = {"estimate": estimate, "customer": {"name": "Northfield Builders"}}
    for ends in (("award", {"reason": "taken"}), ("close", {"reason": "lost", "competing_price": "1500.00"})):
        path = f"/v1/quotes/{api.make('/v1/quotes', body, Idempotency_Key=ends[0])}"
        api.send("PATCH", path, {"note": "by phone"}, If_Match=api.tag(path))
        api.post(f"{path}/approve", {"reason": "a good customer"}, If_Match=api.tag(path))
        api.post(f"{path}/issue", If_Match=api.tag(path))
        anew = f"/v1/quotes/{api.make(f'{path}/requote', {'estimate': estimate})}"
        for document in ("changes.pdf", "changes.html"):
            api.get(f"{anew}/{document}")
        api.post(f"{path}/{ends[0]}", ends[1], If_Match=api.tag(path))
        for document in ("letter.pdf", "letter.html", "ubl.xml"):
            api.get(f"{path}/{document}")
        for part in ("cost-codes", "budget") if ends[0] == "award" else ():
            api.get(f"{path}/{part}")
    for path in ("/v1/quotes", "/v1/bids-due", f"/v1/estimates/{estimate}/summary.pdf"):
        api.get(path)
    api.get(f"/v1/estimates/{estimate}/summary.html")


def work_on_change_orders(api: Noting, office: Office) -> None:
    """A contract changed: directed, disputed, agreed, withdrawn; what it comes to, and notices that are due."""
    project = api.make("/v1/projects", {"name": "Clinic, change orders"})
    asked = [{"mark": "A", "quantity": 4, "valid_until": "2027-12-31"}]
    estimate = api.estimate(golden_request(office) | {"project": project, "unit_prices": asked}).json()["id"]
    waiting = [x["assumption"] for x in api.get(f"/v1/estimates/{estimate}/sign-offs").json()["items"]]
    api.post(f"/v1/estimates/{estimate}/sign-offs", {"sign": waiting})
    body = {"estimate": estimate, "customer": {"name": "Northfield Builders"}}
    quote = f"/v1/quotes/{api.make('/v1/quotes', body, Idempotency_Key='contract')}"
    for step in ("issue", "award"):
        api.post(f"{quote}/{step}", If_Match=api.tag(quote))
    path = f"/v1/projects/{project}/change-orders"
    awarded = {"quote": quote.rpartition("/")[2]}
    more = {"title": "Two windows more", "work_date": "2027-04-05", "unit_prices": [{"mark": "A", "openings": 2}]}
    notice = {"known_on": "2026-03-02", "days": 7, "counted": "calendar"}
    order = f"/v1/change-orders/{api.make(path, more | awarded | {'notice': notice})}"
    api.get(order)
    api.get("/v1/notices-due")
    told = notice | {"given_on": "2026-03-06", "reference": "letter 12"}
    api.send("PATCH", order, {"notice": told}, If_Match=api.tag(order))
    api.post(
        f"{order}/direct",
        {"by": "the architect", "reference": "bulletin 3", "on": "2026-03-10"},
        If_Match=api.tag(order),
    )
    api.post(f"{order}/dispute", {"reason": "the count is not agreed"}, If_Match=api.tag(order))
    api.post(f"{order}/agree", {"reason": "signed on the 30th"}, If_Match=api.tag(order))
    ticket = {"labour": [{"labour": "journeyman", "hours": "8"}], "materials": [{"title": "Sealant", "cost": "120.00"}]}
    other = f"/v1/change-orders/{api.make(path, {'title': 'Work at night', 'time_and_material': ticket} | awarded)}"
    api.post(f"{other}/withdraw", {"reason": "not needed"}, If_Match=api.tag(other))
    api.get(path)
    api.get(f"/v1/projects/{project}/contract")


def work_on_site(api: Noting, estimate: str) -> None:
    """A crew's day told and taken back; how far the job is; a link given out and revoked.

    Set-up, for whether coats are counted apart is the edition's word, and the demo's is not that of the tests.
    """
    api.get(f"/v1/estimates/{estimate}/progress")
    told = {"estimate": estimate, "day": "2026-03-02", "zone": 1, "step": "set_up", "hours": "3.5"}
    record = f"/v1/job-records/{api.make('/v1/job-records', told, Idempotency_Key='monday')}"
    api.get(record)
    rows = [{"day": "2026-03-03", "zone": 1, "step": "set_up", "hours": "1.5"}]
    api.post(f"/v1/estimates/{estimate}/job-records", {"items": rows}, Idempotency_Key="tuesday")
    api.get("/v1/job-records")
    api.post(f"{record}/withdraw", {"reason": "counted twice"}, If_Match=api.tag(record))
    asked = {"estimate": estimate, "title": "Crew of two", "expires_at": IN_A_MONTH}
    link = f"/v1/site-links/{api.make('/v1/site-links', asked)}"
    api.get(link)
    api.get("/v1/site-links")
    api.send("DELETE", link, If_Match=api.tag(link))


def work_on_people(api: Noting, office: Office) -> None:
    """Somebody invited, signed in, removed; a key made and revoked; the company's settings and the audit."""
    api.get("/v1/company")
    made = api.post("/v1/members", {"name": "Ann", "email": "ann@office.example", "role": "estimator"})
    path = made.headers["Location"]
    api.send("PATCH", path, {"role": "sales"}, If_Match=api.tag(path))
    api.get("/v1/members")
    renewed = api.post(f"{path}/invitation")
    guest = Noting(None)

    def change(method: str, path: str, body: Any = None) -> None:
        guest.send(method, path, body, X_CSRFToken=guest.get("/v1/session").json()["csrf_token"])

    change("POST", "/v1/session/invitation", {"invitation": renewed.json()["invitation"], "password": PASSWORD})
    change("POST", "/v1/session", {"email": "ann@office.example", "password": PASSWORD})
    change("PATCH", "/v1/session", {"company": str(office.company)})
    change("POST", "/v1/session/password", {"old_password": PASSWORD, "password": f"{PASSWORD} again"})
    change("DELETE", "/v1/session")
    api.send("DELETE", path, If_Match=api.tag(path))
    key = f"/v1/access-keys/{api.make('/v1/access-keys', {'title': 'ERP', 'scopes': ['read']})}"
    api.get("/v1/access-keys")
    api.send("DELETE", key, If_Match=api.tag(key))
    api.send("PATCH", "/v1/company", {"name": "Office of ours"}, If_Match=api.tag("/v1/company"))
    api.get("/v1/audit?limit=2")


def work_a_day(office: Office) -> list[Sent]:
    """All that was sent in the day, in its order."""
    Noting.sent = []
    api, approver = Noting(office.key), Noting(office.approver_key, "APPROVER_KEY")
    work_on_rates(api, approver, office)
    work_on_estimates(api, office, work_on_schedules(api, office))
    work_on_quotes(api, office)
    work_on_change_orders(api, office)
    work_on_people(api, office)
    return Noting.sent


def test_every_operation_is_done_and_answers_as_its_example_in_the_description_shows(office: Office) -> None:
    sent = work_a_day(office)
    assert {operation.name for operation in OPERATIONS} == {one.operation for one in sent}
    found, kept = examples(sent, shell_lines(sent)), stored()
    different = sorted(name for name in found.keys() | kept.keys() if found.get(name) != kept.get(name))
    assert different == [], "answered otherwise than api/rest/examples.json shows; see above how it is made anew"
