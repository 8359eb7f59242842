"""A project that is quoted, and people who look at pages and send the forms that stand on them, without a browser."""

from __future__ import annotations

import re
import uuid
from html import unescape
from typing import Any
from urllib.parse import quote

from tests.cast import Api, Office, approve, make_person
from tests.db.making import golden_request, issue_quote, sign_all
from tests.worked_cases import read_case

LINES = read_case("golden", "request.json")["openings"]
TEXTS: dict[str, Any] = {
    "inclusions": [{"code": "fluid", "text": "Two coats of fluid-applied flashing.", "when": ["method:fluid"]}],
    "exclusions": [{"code": "permits", "text": "Permits."}, {"code": "power", "text": "Power for lifts."}],
    "terms": "Thirty days net.",
}


class Job:
    """A project with a costed and signed estimate, and people of every role."""

    def __init__(self, office: Office) -> None:
        self.office, self.api = office, Api(office.key)
        tag = self.api.get("/v1/quote-texts").headers["ETag"]
        assert self.api.send("PUT", "/v1/quote-texts", TEXTS, If_Match=tag).status_code == 200
        self.project = self.api.post("/v1/projects", {"name": "Clinic"}).json()["id"]
        request = {name: v for name, v in golden_request(office).items() if name not in ("openings", "edition")}
        self.request = request | {"rate_book": str(office.rate_book), "allocate_by": "own_use"}
        self.first = self.add(LINES)
        self.estimate = self.api.estimate(self.request | {"schedule": self.first}).json()["id"]
        sign_all(office, self.estimate)

    def add(self, lines: Any, issue: str = "Bulletin 2") -> str:
        """The id of a new schedule revision."""
        path = f"/v1/projects/{self.project}/opening-schedules?drawing_issue={quote(issue)}"
        made = self.api.post(path, {"openings": lines})
        assert made.status_code == 201, made.content
        return str(made.json()["id"])

    def quoted(self) -> str:
        """The id of an issued quote of the estimate."""
        body = {"estimate": self.estimate, "customer": {"name": "Northfield Builders"}}
        made = self.api.post("/v1/quotes", body, Idempotency_Key=str(uuid.uuid4()))
        issue_quote(self.office, made.json()["id"])
        return str(made.json()["id"])

    def dearer(self) -> None:
        """A new edition with a higher wage, in force on the day of the work."""
        document = read_case("golden", "edition.json") | {"effective_from": "2027-03-01"}
        document["tables"]["labour"][0]["wage"] = "40.00"
        approve(self.office.company, self.office.rate_book, self.office.drafter, self.office.approver, document)

    def person(self, role: str) -> Visitor:
        return Visitor(make_person(self.office, role, f"{role.replace('_', '-')}@build.example").client)


class Visitor:
    """Somebody who has signed in, and the forms of the pages that are shown."""

    def __init__(self, client: Any) -> None:
        self.client = client
        self.text = ""

    def see(self, path: str, status: int = 200) -> str:
        """The text of a page."""
        answer = self.client.get(path)
        self.text = unescape(answer.content.decode())
        assert answer.status_code == status, self.text[-2000:]
        return self.text

    def fields(self) -> dict[str, Any]:
        """What the form of the page shown holds, as a browser would send it."""
        form = self.text.rpartition('<form method="post"')[2]
        found: dict[str, Any] = {}
        for field in re.findall(r"<input[^>]*>", form):
            named = dict(re.findall(r'(\w+)="([^"]*)"', field))
            if named.get("type") in ("checkbox", "radio") and " checked" not in field:
                continue
            if "name" in named:
                found.setdefault(named["name"], []).append(named.get("value", ""))
        for name, inner in re.findall(r'<select[^>]*name="(\w+)"[^>]*>(.*?)</select>', form, re.S):
            chosen = re.search(r'value="([^"]*)" selected', inner) or re.search(r'value="([^"]*)"', inner)
            found[name] = [chosen[1] if chosen else ""]
        for name, inner in re.findall(r'<textarea[^>]*name="(\w+)"[^>]*>\n?(.*?)</textarea>', form, re.S):
            found[name] = [inner]
        return found

    def send(self, path: str, status: int = 303, **typed: Any) -> str:
        """Where the form of the page at an address leads to; the page again where it is refused."""
        self.see(path)
        return self.send_again(path, self.fields() | typed, status)

    def send_again(self, path: str, typed: dict[str, Any], status: int = 303) -> str:
        answer = self.client.post(path, typed)
        self.text = unescape(answer.content.decode())
        assert answer.status_code == status, self.text[-3000:]
        return answer.headers.get("Location", "") if status == 303 else self.text
