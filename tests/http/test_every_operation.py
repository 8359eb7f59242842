"""Every operation of the API does what it is for at least once here: a day of an office, from the rates to the audit.

Requests made up from the description seldom get past refusal where rules hold that no schema can say; what they leave
out is done here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from api.rest.routes import OPERATIONS
from tests.cast import PASSWORD, Api, Office
from tests.db.making import golden_request
from tests.worked_cases import read_case

TABLES = ("labour", "materials", "equipment", "production", "overheads")
PARTS = ("openings", "materials", "equipment", "hours", "pieces", "cost-codes")


class Noting(Api):
    """A client that notes which operations were answered with less than 400, and lets nothing else pass."""

    done: set[tuple[str, str]] = set()

    def send(self, method: str, path: str, body: Any = None, **fields: str) -> Any:
        answer = super().send(method, path, body, **fields)
        assert answer.status_code < 400, (method, path, answer.content[:500])
        self.done.add((method, path.partition("?")[0]))
        return answer

    def tag(self, path: str) -> str:
        """The ETag of what stands there now."""
        return str(self.get(path).headers["ETag"])

    def make(self, path: str, body: Any = None, **fields: str) -> str:
        """The id of what a POST makes."""
        return str(self.post(path, body, **fields).json()["id"])


def work_on_rates(api: Noting, approver: Noting, office: Office) -> None:
    """An edition drafted, filled, sent back, approved, withdrawn; another deleted."""
    book = api.make("/v1/rate-books", {"name": "Branch"})
    api.send("PATCH", f"/v1/rate-books/{book}", {"note": "new"}, If_Match=api.tag(f"/v1/rate-books/{book}"))
    api.get("/v1/rate-books")
    edition = read_case("golden", "edition.json")
    path = f"/v1/editions/{api.make(f'/v1/rate-books/{book}/editions', edition)}"
    for table in TABLES:
        api.send("PUT", f"{path}/{table}", edition["tables"][table], If_Match=api.tag(path))
        api.get(f"{path}/{table}")
    api.send("PUT", f"{path}/tables", edition["tables"], If_Match=api.tag(path))
    formula = {"table": "labour", "price": "wage", "change": "+4 %"}
    api.post(f"{path}/change_prices", {"formula": formula, "preview": False}, If_Match=api.tag(path))
    api.post(f"{path}/submit", If_Match=api.tag(path))
    approver.post(f"{path}/send_back", {"reason": "see the wage"}, If_Match=api.tag(path))
    api.post(f"{path}/submit", If_Match=api.tag(path))
    approver.post(f"{path}/approve", {"digest": api.get(path).json()["digest"]}, If_Match=api.tag(path))
    for part in ("tables", "steps", "impact", f"changes?from={office.edition}"):
        api.get(f"{path}/{part}")
    api.get(f"/v1/rate-books/{book}/in-force?work_date=2027-06-01")
    api.get(f"/v1/rate-books/{book}/editions")
    approver.post(f"{path}/withdraw", {"reason": "a misprint"}, If_Match=api.tag(path))
    path = f"/v1/editions/{api.make(f'/v1/rate-books/{book}/editions', edition)}"
    api.send("DELETE", path, If_Match=api.tag(path))


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
    by_area = {"wall_area": "2000 ft2", "stated_rate": "3.00"}
    request = golden_request(office) | {"project": project}
    first = api.estimate(request).json()["id"]
    second = api.estimate(request | by_area).json()["id"]
    for part in (*PARTS, "methods", "alternates", "per-area", "assumptions", "derivations/price"):
        api.get(f"/v1/estimates/{second}/{part}")
    waiting = api.estimate(request, wait=None).json()["id"]
    api.send("DELETE", f"/v1/estimates/{waiting}")
    comparison = api.make("/v1/comparisons", {"before": first, "after": second}, Prefer="wait=10")
    for path in (f"/v1/comparisons/{comparison}", "/v1/comparisons", f"/v1/projects/{project}/estimates", "/v1/feed"):
        api.get(path)
    api.get(f"/v1/estimates/{first}")


def work_on_people(api: Noting, office: Office) -> None:
    """Somebody invited, signed in, removed; a key made and revoked; the company's settings and the audit."""
    made = api.post("/v1/members", {"name": "Ann", "email": "ann@office.example", "role": "estimator"})
    path = made.headers["Location"]
    api.send("PATCH", path, {"role": "sales"}, If_Match=api.tag(path))
    api.get("/v1/members")
    renewed = api.post(f"{path}/invitation")
    guest = Noting(None)
    guest.post("/v1/session/invitation", {"invitation": renewed.json()["invitation"], "password": PASSWORD})
    guest.post("/v1/session", {"email": "ann@office.example", "password": PASSWORD})
    guest.send("PATCH", "/v1/session", {"company": str(office.company)})
    guest.get("/v1/session")
    guest.post("/v1/session/password", {"old_password": PASSWORD, "password": f"{PASSWORD} again"})
    guest.send("DELETE", "/v1/session")
    api.send("DELETE", path, If_Match=api.tag(path))
    key = f"/v1/access-keys/{api.make('/v1/access-keys', {'title': 'ERP', 'scopes': ['read']})}"
    api.get("/v1/access-keys")
    api.send("DELETE", key, If_Match=api.tag(key))
    api.send("PATCH", "/v1/company", {"name": "Office of ours"}, If_Match=api.tag("/v1/company"))
    api.get("/v1/audit")


def templates() -> Iterator[tuple[str, str, re.Pattern[str]]]:
    """Each operation's method and address, and what its address looks like."""
    for operation in OPERATIONS:
        yield operation.method, operation.path, re.compile(re.sub(r"\{\w+\}", "[^/]+", operation.path) + r"\Z")


def test_every_operation_is_done_at_least_once(office: Office) -> None:
    Noting.done.clear()
    api, approver = Noting(office.key), Noting(office.approver_key)
    work_on_rates(api, approver, office)
    work_on_estimates(api, office, work_on_schedules(api, office))
    work_on_people(api, office)
    left = {
        (method, path)
        for method, path, pattern in templates()
        if not any(method == done and pattern.match(address) for done, address in Noting.done)
    }
    assert left == set()
