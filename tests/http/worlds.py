"""Four companies, two of them twins: every text of a company carries its marker, every rate its prime."""

from __future__ import annotations

import datetime
import io
import json
import uuid
import zipfile
from dataclasses import dataclass, field
from typing import Any

from django.apps import apps

from rates.actions import companies
from rates.identity import new_id
from rates.roles import SCOPES
from rates.tenancy import CompanyOwned, CompanyRows
from tests.cast import NOW, Api, Office, make_office, make_person
from tests.db.making import award_quote, compare, cost_golden, draft_quote, give_link, propose_change, record_job
from tests.pdf_texts import text_of_pdf
from tests.worked_cases import read_case

PRIMES = ("7907.53", "7907.53", "7919.61", "7927.67")  # wholes and cents are prime; twins share theirs
COLLECTIONS = (
    "access-keys", "members", "rate-books", "editions", "projects", "opening-schedules", "estimates", "comparisons",
    "quotes", "change-orders", "job-records", "site-links",
)  # fmt: skip


@dataclass
class World:
    """One company as its people and machines see it."""

    marker: str
    prime: str
    office: Office
    ids: dict[str, str]
    draft: str
    person: Api
    cursors: dict[str, str] = field(default_factory=dict)
    tags: dict[str, str] = field(default_factory=dict)

    @property
    def api(self) -> Api:
        return Api(self.office.key)


def edition_of(marker: str, prime: str) -> Any:
    """The golden edition with a company's marker in every title and its prime as a wage and a price."""
    document = read_case("golden", "edition.json")
    for rows in document["tables"].values():
        for row in rows if isinstance(rows, list) else ():
            row["title"] = f"{row['title']} {marker}"
    document["tables"]["labour"][0]["wage"] = prime
    document["tables"]["materials"][0]["packs"][0]["price"] = prime
    return document | {"note": marker}


def make_world(place: int) -> World:
    """A company with one of everything."""
    marker, prime = f"mk{uuid.uuid4().hex[:10]}", PRIMES[place]
    office = make_office(f"Twin {marker}", edition_of(marker, prime))
    api = Api(office.key)
    person = make_person(office, "principal", f"p@{marker}.example")
    project = api.post("/v1/projects", {"name": f"Clinic {marker}", "number": marker, "note": marker})
    openings = read_case("golden", "request.json")["openings"]
    for line in openings:
        line["mark"] = f"{line['mark']}-{marker}"
    path = f"{project.headers['Location']}/opening-schedules?file_name={marker}.json&drawing_issue={marker}"
    first = api.post(path, [openings[0] | {"mark": f"was-{marker}"}, *openings[1:]])
    schedule = api.post(path, openings)
    assert schedule.status_code == 201, schedule.content
    said = {"from": first.json()["id"], "pairs": [{"before": 0, "after": 0, "same": True}]}
    matched = api.post(f"{schedule.headers['Location']}/matches", said)
    assert matched.status_code == 200, matched.content
    estimate = cost_golden(office, openings=openings)
    own = project.headers["Location"]
    bid = cost_golden(office, openings=openings, project=project.json()["id"])
    award_quote(office, bid, customer={"name": marker})
    order = propose_change(office, own, title=marker, description=marker)
    draft = api.post(f"/v1/rate-books/{office.rate_book}/editions", edition_of(marker, prime))
    api.post("/v1/projects", {"name": f"Second {marker}"})
    ids = {
        "access-keys": api.get("/v1/access-keys").json()["items"][0]["id"],
        "members": str(office.approver),
        "rate-books": str(office.rate_book),
        "editions": str(office.edition),
        "projects": project.json()["id"],
        "opening-schedules": schedule.json()["id"],
        "estimates": str(estimate),
        "comparisons": str(compare(office, estimate, estimate)),
        "quotes": draft_quote(office, estimate, customer={"name": marker}, note=marker),
        "change-orders": order["id"],
        "job-records": record_job(office, estimate, note=marker)["id"],
        "site-links": give_link(office, estimate, title=marker)["id"],
    }
    world = World(marker, prime, office, ids, draft.json()["id"], person)
    for name in ("projects", "members", "access-keys", "audit"):
        world.cursors[name] = api.get(f"/v1/{name}?limit=1").json()["next"]
    for name, id in ids.items():
        world.tags[name] = api.get(f"/v1/{name}/{id}").headers["ETag"]
    return world


def make_worlds() -> list[World]:
    """All four companies."""
    return [make_world(place) for place in range(4)]


def weak_callers(world: World) -> dict[str, tuple[Api, int]]:
    """Callers who get nothing, with the status that they are answered."""
    office = world.office
    soon = NOW + datetime.timedelta(seconds=1)
    who: dict[str, Any] = {"company": office.company, "member": office.drafter, "scopes": sorted(SCOPES), "now": NOW}
    expired = companies.make_key(**who, title=world.marker, expires_at=soon)
    revoked = companies.make_key(**who, title=world.marker)
    api = world.api
    path = f"/v1/access-keys/{revoked.key.id}"
    assert api.send("DELETE", path, If_Match=api.get(path).headers["ETag"]).status_code == 204
    none = companies.make_key(**who | {"scopes": ()}, title=world.marker)
    gone = make_person(office, "principal", f"gone@{world.marker}.example")
    member = next(m for m in api.get("/v1/members").json()["items"] if (m["email"] or "").startswith("gone@"))
    path = f"/v1/members/{member['id']}"
    assert api.send("DELETE", path, If_Match=api.get(path).headers["ETag"]).status_code == 204
    return {
        "anonymous": (Api(None), 401),
        "expired": (Api(expired.secret), 401),
        "revoked": (Api(revoked.secret), 401),
        "removed": (gone, 401),
        "without scope": (Api(none.secret), 403),
    }


def text_of(answer: Any) -> str:
    """Header fields and content of an answer; of a workbook the text of all its parts."""
    content: bytes = answer.content
    fields = "\n".join(f"{name}: {value}" for name, value in answer.headers.items())
    if content.startswith(b"%PDF"):
        return fields + text_of_pdf(content)
    if not content.startswith(b"PK"):
        return fields + content.decode(errors="replace")
    with zipfile.ZipFile(io.BytesIO(content)) as book:
        return fields + "\n".join(book.read(name).decode() for name in book.namelist())


def rows_of(worlds: list[World]) -> dict[str, list[Any]]:
    """Every row of these companies, but for what reading alone moves on."""
    found = {}
    ids = [world.office.company for world in worlds]
    for label in ("rates", "estimating"):
        for model in apps.get_app_config(label).get_models():
            if issubclass(model, CompanyOwned):
                names = [f.attname for f in model._meta.fields if f.attname != "last_used_at"]
                rows = CompanyRows[Any](model).filter(company__in=ids).order_by("pk").values_list(*names)
                found[model.__name__] = [
                    tuple(bytes(v) if isinstance(v, memoryview) else v for v in row) for row in rows
                ]
    return found


def comparable(answer: Any) -> tuple[int, Any, Any]:
    """An answer without what names the request itself."""
    told = {
        name: answer.headers[name] for name in ("Content-Type", "ETag", "Allow", "Location") if name in answer.headers
    }
    if answer.headers.get("Content-Type") != "application/problem+json":
        return answer.status_code, answer.content, told
    document = {k: v for k, v in json.loads(answer.content).items() if k not in ("instance", "request_id")}
    return answer.status_code, document, told


def unknown() -> str:
    """An id that nothing has."""
    return str(new_id())
