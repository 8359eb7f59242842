"""The habits of people and programs that call an API over HTTP: method, address, header fields, body, what happens.

Each row is a test. Where a standard says what a habit means, the row names it.
"""
# ruff: noqa: E501 (a row of the table is a line)

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client

from tests.cast import Api, Office, make_person
from tests.db.making import golden_request
from tests.http.habits import Desk, Habit, check, gz

FORM = "application/x-www-form-urlencoded"  # what curl -d sends unless it is told otherwise
MERGE = "application/merge-patch+json"
DRAFT, PROJECT, COMPANY = "@/v1/editions/{draft}", "@/v1/projects/{project}", "@/v1/company"
GZIP = {"Content_Encoding": "gzip"}
TAKES_GZIP = {"Accept_Encoding": "gzip, deflate, br"}
NAMED = {"name": "Clinic"}
CODE = "/errors/0/code"


def ends_gz(tag: str) -> bool:
    return tag.endswith('.gz"')


def is_plain(tag: str) -> bool:
    return not tag.endswith('.gz"')


def varies(field: str) -> bool:
    return "Accept-Encoding" in field


ACTIONS = (
    Habit("an action without content", "POST", "/v1/editions/{draft}/submit", 200, {"/state": "submitted"}, None, {"If_Match": DRAFT}),
    Habit("an action with {}", "POST", "/v1/editions/{draft}/submit", 200, {"/state": "submitted"}, {}, {"If_Match": DRAFT}),
    Habit("an action with an empty form", "POST", "/v1/editions/{draft}/submit", 200, {"/state": "submitted"}, "", {"If_Match": DRAFT, "Content_Type": FORM}),
    Habit("a key asked for without content", "POST", "/v1/access-keys", 422, {CODE: "missing", "/errors/0/pointer": "/title"}),
    Habit("sign-offs without content", "POST", "/v1/estimates/{estimate}/sign-offs", 200, {"/items/#": lambda n: n > 0}),
    Habit("an action with null", "POST", "/v1/editions/{draft}/submit", 200, {"/state": "submitted"}, "null", {"If_Match": DRAFT}),
    Habit("a field that an action does not know", "POST", "/v1/editions/{draft}/submit", 422, {CODE: "unknown_field", "/errors/0/pointer": "/note"}, {"note": "x"}, {"If_Match": DRAFT}),
    Habit("a list for an action", "POST", "/v1/editions/{draft}/submit", 422, {CODE: "not_an_object"}, [], {"If_Match": DRAFT}),
    Habit("a text for an action", "POST", "/v1/editions/{draft}/submit", 415, {}, "x", {"If_Match": DRAFT, "Content_Type": "text/plain"}),
    Habit("an action on a state that nobody names", "POST", "/v1/editions/{draft}/submit", 428, {CODE: "if_match_missing"}, {}),
    Habit("DELETE with {}", "DELETE", "/v1/editions/{draft}", 204, {}, {}, {"If_Match": DRAFT}),
    Habit("GET with content", "GET", "/v1/projects", 415, {}, {}),
)  # fmt: skip
ADDRESSES = (
    Habit("a slash at the end", "GET", "/v1/projects/?limit=3", 308, {"Location": "/v1/projects?limit=3"}),
    Habit("a slash at the end of a POST", "POST", "/v1/projects/", 308, {"Location": "/v1/projects"}, NAMED, then={"/v1/projects": {"/items/#": 0}}),
    Habit("a slash at the end, and nobody known", "POST", "/v1/session/", 308, {"Location": "/v1/session"}, {}, by="nobody"),
    Habit("POST to the description", "POST", "/v1/openapi.json", 405, {"Allow": "GET, HEAD, OPTIONS"}, {}, by="nobody"),
    Habit("several slashes", "GET", "/v1/projects/{project}//", 308, {"Location": "/v1/projects/{project}"}),
    Habit("no slash after v1", "GET", "/v1", 308, {"Location": "/v1/"}),
    Habit("the front, where the links are", "GET", "/v1/", 200, {"/links/projects": "/v1/projects"}),
    Habit("a slash behind the description", "GET", "/v1/openapi.json/", 308, {"Location": "/v1/openapi.json"}),
    Habit("snake case in an address", "GET", "/v1/rate_books", 308, {"Location": "/v1/rate-books"}),
    Habit("another host by a slash", "GET", "/v1//host.example/", 404, {CODE: "not_found"}),
    Habit("a line end in an address", "GET", "/v1/projects/a%0d%0ab/", 404, {CODE: "not_found"}),
    Habit("a sign in an address that stays encoded", "GET", "/v1/projects/a%20%C3%A9/", 308, {"Location": "/v1/projects/a%20%C3%A9"}),
    Habit("an address that is none, with a slash", "GET", "/v1/nothing/", 404, {CODE: "not_found"}),
    Habit("a slash behind what nobody may see", "GET", "/v1/company/", 308, {"Location": "/v1/company"}, by="nobody"),
)  # fmt: skip
METHODS = (
    Habit("OPTIONS of a collection", "OPTIONS", "/v1/projects", 204, {"Allow": "GET, HEAD, OPTIONS, POST", "Accept-Post": "application/json"}),
    Habit("OPTIONS of a thing (RFC 5789, 3.1)", "OPTIONS", "/v1/projects/{project}", 204, {"Allow": "GET, HEAD, OPTIONS, PATCH", "Accept-Patch": f"application/json, {MERGE}"}),
    Habit("OPTIONS without a key", "OPTIONS", "/v1/company", 204, {"Allow": "GET, HEAD, OPTIONS, PATCH"}, by="nobody"),
    Habit("OPTIONS of the description", "OPTIONS", "/v1/openapi.json", 204, {"Allow": "GET, HEAD, OPTIONS"}),
    Habit("a method that is not taken", "PUT", "/v1/projects", 405, {"Allow": "GET, HEAD, OPTIONS, POST"}, NAMED),
    Habit("HEAD (RFC 9110, 9.3.2)", "HEAD", "/v1/projects/{project}", 200, {"ETag": PROJECT, "Content-Length": lambda n: int(n) > 100}),
    Habit("HEAD of a list", "HEAD", "/v1/projects", 200, {"Content-Type": "application/json"}),
    Habit("HEAD of what is not there", "HEAD", "/v1/projects/7", 404),
    Habit("HEAD of what is known", "HEAD", "/v1/projects/{project}", 304, {"ETag": PROJECT}, None, {"If_None_Match": PROJECT}),
)  # fmt: skip
CONTENT = (
    Habit("a charset beside JSON", "POST", "/v1/projects", 201, {"/name": "Zoë"}, '{"name": "Zoë"}', {"Content_Type": "application/json; charset=UTF-8"}),
    Habit("a charset that JSON is not in (RFC 8259, 8.1)", "POST", "/v1/projects", 415, {}, b'{"name": "Zo\xeb"}', {"Content_Type": "application/json; charset=iso-8859-1"}),
    Habit("a charset that nobody knows", "POST", "/v1/projects", 415, {}, NAMED, {"Content_Type": "application/json; charset=x-none"}),
    Habit("a charset of the content leaves the address alone", "POST", "/v1/projects/{project}/opening-schedules?drawing_issue=%C3%A9", 201, {"/drawing_issue": "é"}, "Mark,Qty,Width,Height\nW1,6,48 in,48 in\n", {"Content_Type": "text/csv; charset=iso-8859-1"}),
    Habit("gzip", "POST", "/v1/projects", 201, {"/name": "Clinic"}, gz(NAMED), GZIP),
    Habit("gzip of a schedule", "POST", "/v1/projects/{project}/opening-schedules", 201, {"/lines": 1}, gz(b"Mark,Qty,Width,Height\nW1,6,48 in,48 in\n"), GZIP | {"Content_Type": "text/csv"}),
    Habit("gzip of nothing for an action", "POST", "/v1/editions/{draft}/submit", 200, {"/state": "submitted"}, gz(b""), GZIP | {"If_Match": DRAFT}),
    Habit("gzip that is none", "POST", "/v1/projects", 400, {CODE: "bad_gzip"}, "{}", GZIP),
    Habit("gzip cut short", "POST", "/v1/projects", 400, {CODE: "bad_gzip"}, gz(NAMED)[:-9], GZIP),
    Habit("gzip with something behind it", "POST", "/v1/projects", 400, {CODE: "bad_gzip"}, gz(NAMED) + b"x", GZIP),
    Habit("gzip that grows a thousandfold", "POST", "/v1/projects", 413, {}, gz(b" " * 200_000_000), GZIP),
    Habit("a coding that is not known (RFC 9110, 15.5.16)", "POST", "/v1/projects", 415, {"Accept-Encoding": "gzip"}, NAMED, {"Content_Encoding": "br"}),
    Habit("a number with places", "PATCH", "/v1/rate-books/{book}", 200, {"/band/percent": "10.5"}, '{"band": {"percent": 10.5}}', {"If_Match": "@/v1/rate-books/{book}"}),
    Habit("a number to its last place", "PATCH", "/v1/company", 200, {"/margin_floor": "12.345678901234"}, '{"margin_floor": 12.345678901234}', {"If_Match": COMPANY}),
    Habit("a number as programs write small ones", "PATCH", "/v1/company", 200, {"/margin_floor": "0.00001"}, '{"margin_floor": 1e-05}', {"If_Match": COMPANY}),
    Habit("a whole number with places", "PATCH", "/v1/company", 200, {"/length_denominator": 8}, '{"length_denominator": 8.0}', {"If_Match": COMPANY}),
    Habit("a number for a text", "POST", "/v1/projects", 422, {CODE: "not_text", "/errors/0/detail": "text is expected, not 10.5"}, '{"name": 10.5}'),
    Habit("a form for JSON", "POST", "/v1/projects", 415, {"Accept": "application/json"}, "name=Clinic", {"Content_Type": FORM}),
)  # fmt: skip
PATCHES = (
    Habit("a merge patch (RFC 7396)", "PATCH", "/v1/projects/{project}", 200, {"/note": "east wing", "/number": "26-014"}, {"note": "east wing"}, {"If_Match": PROJECT, "Content_Type": MERGE}),
    Habit("null takes away", "PATCH", "/v1/projects/{project}", 200, {"/note": "", "/name": "Clinic"}, {"note": None}, {"If_Match": PROJECT, "Content_Type": MERGE}),
    Habit("null takes away in plain JSON too", "PATCH", "/v1/projects/{project}", 200, {"/note": ""}, {"note": None}, {"If_Match": PROJECT}),
    Habit("null for what must be", "PATCH", "/v1/projects/{project}", 422, {CODE: "not_removable"}, {"name": None}, {"If_Match": PROJECT}),
    Habit("a patch of no object", "PATCH", "/v1/projects/{project}", 422, {CODE: "not_an_object"}, [], {"If_Match": PROJECT, "Content_Type": MERGE}),
    Habit("a patch of nothing", "PATCH", "/v1/projects/{project}", 200, {"/name": "Clinic"}, {}, {"If_Match": PROJECT, "Content_Type": MERGE}),
    Habit("a JSON Patch, which is another kind", "PATCH", "/v1/projects/{project}", 415, {"Accept": f"application/json, {MERGE}"}, [], {"If_Match": PROJECT, "Content_Type": "application/json-patch+json"}),
)  # fmt: skip
ANSWERS = (
    Habit("an answer as gzip", "GET", "/v1/estimates/{estimate}", 200, {"Content-Encoding": "gzip", "/state": "costed", "ETag": ends_gz, "Vary": varies}, None, TAKES_GZIP),
    Habit("an answer plain", "GET", "/v1/estimates/{estimate}", 200, {"Content-Encoding": None, "ETag": is_plain, "Vary": varies}),
    Habit("gzip refused by its weight", "GET", "/v1/estimates/{estimate}", 200, {"Content-Encoding": None}, None, {"Accept_Encoding": "gzip;q=0, *"}),
    Habit("any coding", "GET", "/v1/estimates/{estimate}", 200, {"Content-Encoding": "gzip"}, None, {"Accept_Encoding": "*"}),
    Habit("a short answer stays plain", "GET", "/v1/projects/{project}", 200, {"Content-Encoding": None, "ETag": PROJECT}, None, TAKES_GZIP),
    Habit("the tag of the compressed answer", "GET", "/v1/estimates/{estimate}", 304, {"ETag": ends_gz}, None, TAKES_GZIP | {"If_None_Match": "@/v1/estimates/{estimate}"}),
    Habit("a compressed CSV", "GET", "/v1/openapi.json", 200, {"Content-Encoding": "gzip", "/openapi": "3.1.0"}, None, TAKES_GZIP, by="nobody"),
    Habit("an answer to a cookie stays plain", "GET", "/v1/estimates/{estimate}", 200, {"Content-Encoding": None}, None, TAKES_GZIP, by="session"),
)  # fmt: skip
LISTS = (
    Habit("projects by a word of the name, in any case", "GET", "/v1/projects?search=CLIN", 200, {"/items/0/id": "{project}", "/items/#": 1}, None, {"X_For": "{project}{tower}"}),
    Habit("projects by number", "GET", "/v1/projects?search=26-014", 200, {"/items/0/name": "Clinic", "/items/#": 1}, None, {"X_For": "{project}{tower}"}),
    Habit("projects by letters outside ASCII", "GET", "/v1/projects?search=m%C3%9Cller", 200, {"/items/0/id": "{tower}"}, None, {"X_For": "{tower}"}),
    Habit("projects by words in another order", "GET", "/v1/projects?search=tower+020", 200, {"/items/0/id": "{tower}"}, None, {"X_For": "{tower}"}),
    Habit("a sign that a search could take for another", "GET", "/v1/projects?search=100%20%25", 200, {"/items/#": 1}, None, {"X_For": "{project}{tower}"}),
    Habit("a sign that matches nothing", "GET", "/v1/projects?search=_", 200, {"/items/#": 0}, None, {"X_For": "{project}{tower}"}),
    Habit("archived projects are out of the list", "GET", "/v1/projects", 200, {"/items/#": 1, "/items/0/id": "{project}"}, None, {"X_For": "{archived}{project}"}),
    Habit("archived projects where they are asked for", "GET", "/v1/projects?state=archived", 200, {"/items/0/id": "{archived}", "/items/0/state": "archived"}, None, {"X_For": "{archived}{project}"}),
    Habit("projects in any state", "GET", "/v1/projects?state=any", 200, {"/items/#": 2}, None, {"X_For": "{archived}{project}"}),
    Habit("an archived project by its id", "GET", "/v1/projects/{archived}", 200, {"/state": "archived"}),
    Habit("a project opened again", "PATCH", "/v1/projects/{archived}", 200, {"/state": "open"}, {"state": "open"}, {"If_Match": "@/v1/projects/{archived}"}, {"/v1/projects": {"/items/0/id": "{archived}"}}),
    Habit("estimates of all projects", "GET", "/v1/estimates", 200, {"/items/0/id": "{estimate}", "/items/1/id": "{bid}", "/items/1/project_name": "Clinic"}, None, {"X_For": "{estimate}{bid}"}),
    Habit("estimates of one project", "GET", "/v1/estimates?project={project}", 200, {"/items/#": 1, "/items/0/id": "{bid}"}, None, {"X_For": "{estimate}{bid}"}),
    Habit("estimates by state and date", "GET", "/v1/estimates?state=costed&work_date_from=2027-03-15&work_date_to=2027-03-15", 200, {"/items/#": 1}, None, {"X_For": "{estimate}"}),
    Habit("estimates of no such date", "GET", "/v1/estimates?work_date_from=2027-03-16", 200, {"/items/#": 0}, None, {"X_For": "{estimate}"}),
    Habit("estimates by price, the ends included", "GET", "/v1/estimates?price_from=1655.00&price_to=1655&currency=USD", 200, {"/items/#": 1}, None, {"X_For": "{estimate}"}),
    Habit("estimates above a price", "GET", "/v1/estimates?price_from=1655.01", 200, {"/items/#": 0}, None, {"X_For": "{estimate}"}),
    Habit("estimates page by page", "GET", "/v1/estimates?ordering=-price&limit=1", 200, {"/items/#": 1, "Link": lambda link: "ordering=-price" in link and 'rel="next"' in link}, None, {"X_For": "{estimate}{bid}"}),
    Habit("estimates of a project that is archived", "GET", "/v1/estimates?archived=true", 200, {"/items/#": 1}, None, {"X_For": "{estimate}"}),
    Habit("estimates as a table", "GET", "/v1/estimates.csv", 200, {"Content-Type": "text/csv; charset=utf-8"}, None, {"X_For": "{estimate}"}),
    Habit("a filter that is none", "GET", "/v1/estimates?price=5", 422, {CODE: "unknown_field", "/errors/0/pointer": "/query/price"}),
)  # fmt: skip
FORMULA = {"table": "labour", "price": "wage", "change": "+4 %"}
SAME = {"/difference": "0.00", "/feasible": True, "/reason": None}
LOOKS = (
    Habit("a preview needs no If-Match and changes nothing", "POST", "/v1/editions/{draft}/change-prices", 200, {"/preview": True, "/changes/#": lambda n: n > 0}, {"formula": FORMULA, "preview": True}, {}, {"/v1/audit?action=change-prices": {"/items/#": 0}}),
    Habit("what is no preview needs it", "POST", "/v1/editions/{draft}/change-prices", 428, {}, {"formula": FORMULA, "preview": False}),
    Habit("a preview of what has moved on is told so", "POST", "/v1/editions/{draft}/change-prices", 412, {}, {"formula": FORMULA, "preview": True}, {"If_Match": '"old"'}),
    Habit("_ for - in what was so before", "POST", "/v1/editions/{draft}/change_prices", 200, {"/preview": True}, {"formula": FORMULA, "preview": True}),
    Habit("what if nothing changed", "POST", "/v1/estimates/{estimate}/what-if", 200, SAME | {"/changed/#": 0}, {}),
    Habit("what if a subcontract came", "POST", "/v1/estimates/{estimate}/what-if", 200, {"/before/price": "1655.00", "/feasible": True, "/changed/0/pointer": "/subcontracts", "/difference": lambda d: float(d) > 100.5}, {"subcontracts": [{"title": "survey", "amount": 100.5}]}, {"Content_Type": MERGE}, {"/v1/estimates": {"/items/#": 1}, "/v1/audit?action=try-what-if": {"/items/#": 0}}),
    Habit("what if it can't be priced", "POST", "/v1/estimates/{estimate}/what-if", 200, {"/feasible": False, "/after": None, "/difference": None, "/reason": bool, "/problems/0/pointer": "/congestion"}, {"congestion": "no such"}),
    Habit("what if it can't be read", "POST", "/v1/estimates/{estimate}/what-if", 422, {CODE: "unknown_field", "/errors/0/line": 1}, {"colour": "red"}),
    Habit("what if by another edition that is none", "POST", "/v1/estimates/{estimate}/what-if", 422, {CODE: "not_found"}, {"edition": "{project}"}),
    Habit("what if of what is not there", "POST", "/v1/estimates/{project}/what-if", 404, {}, {}),
)  # fmt: skip
TABLE = (*ACTIONS, *ADDRESSES, *METHODS, *CONTENT, *PATCHES, *ANSWERS, *LISTS, *LOOKS)


def test_there_are_fifty_and_each_says_something_else() -> None:
    assert len({habit.says for habit in TABLE}) == len(TABLE) >= 50


@pytest.mark.parametrize("habit", TABLE, ids=[habit.says for habit in TABLE])
def test_a_habit(office: Office, habit: Habit) -> None:
    desk = Desk(office)
    clients: dict[str, Callable[[], Any]] = {
        "key": lambda: desk.api,
        "nobody": lambda: Api(None, Client(raise_request_exception=False, enforce_csrf_checks=True)),
        "session": lambda: make_person(office, "principal", "p@office.example"),
    }
    answer = desk.send(clients[habit.by](), habit)
    assert answer.status_code == habit.status, answer.content[:600]
    check(answer, {name: desk.header(v) if isinstance(v, str) else v for name, v in habit.shows.items()}, desk)
    for path, shows in habit.then.items():
        check(desk.api.get(path), shows, desk)


def test_a_tag_that_came_compressed_changes_the_thing(api: Api) -> None:
    made = api.post("/v1/projects", {"name": "Clinic", "note": "x" * 1500})
    read = api.get(made.headers["Location"], Accept_Encoding="gzip")
    assert read.headers["ETag"].endswith('.gz"')
    changed = api.send("PATCH", made.headers["Location"], {"note": "y"}, If_Match=read.headers["ETag"])
    assert changed.status_code == 200


def test_a_key_sent_plain_and_again_as_gzip_is_one_request(api: Api) -> None:
    first = api.post("/v1/projects", NAMED, Idempotency_Key="k")
    again = api.post("/v1/projects", gz(NAMED), Idempotency_Key="k", Content_Encoding="gzip")
    assert (first.status_code, again.status_code) == (201, 201)
    assert again.headers["Idempotent-Replayed"] == "true" and again.json() == first.json()


def test_a_merge_patch_reaches_into_an_object_and_plain_json_puts_another_in_its_place(api: Api) -> None:
    def change(codes: Any, media: str) -> Any:
        tag = api.get("/v1/company").headers["ETag"]
        answer = api.send("PATCH", "/v1/company", {"cost_codes": codes}, If_Match=tag, Content_Type=media)
        return answer.json()["cost_codes"]

    assert change({"07 25 00": "Barriers", "07 92 00": "Sealants"}, MERGE).keys() == {"07 25 00", "07 92 00"}
    assert change({"07 25 00": None, "07 27 00": "Air"}, MERGE) == {"07 92 00": "Sealants", "07 27 00": "Air"}
    assert change({"07 25 00": "Barriers"}, "application/json") == {"07 25 00": "Barriers"}


@pytest.mark.django_db
def test_a_secret_is_never_compressed(rules: None, office: Office) -> None:
    made = Api(office.key).post(
        "/v1/members",
        {"name": "N" * 200, "email": f"{'n' * 60}@{'m' * 150}.example", "role": "viewer"},
        Accept_Encoding="gzip",
    )
    assert made.status_code == 201 and "Content-Encoding" not in made.headers
    session = Client().get("/v1/session", headers={"Accept-Encoding": "gzip"})
    assert session.status_code == 200 and "Content-Encoding" not in session.headers


def test_a_number_of_a_request_is_the_same_as_its_text(api: Api, office: Office) -> None:
    request = golden_request(office)
    as_text = api.estimate(request | {"stated_rate": "3.10"}).json()
    as_number = api.estimate(request | {"stated_rate": 3.1}).json()
    assert as_number["totals"] == as_text["totals"]
