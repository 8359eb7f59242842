"""Every error is a problem document (RFC 9457), from wherever it comes, and a table of what is refused how."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.test import Client

from api.errors import KINDS
from estimating.queries import projects
from tests.cast import Api, Office
from tests.db.making import golden_request
from tests.worked_cases import read_case

FIELDS = {"type", "title", "status", "detail", "instance", "request_id", "errors"}


def check_problem(response: Any, status: int, code: str | None = None) -> dict[str, Any]:
    """The problem document of a response, its form checked."""
    assert response.status_code == status, response.content
    assert response.headers["Content-Type"] == "application/problem+json"
    document: dict[str, Any] = json.loads(response.content)
    assert FIELDS <= set(document)
    assert document["status"] == status
    assert document["request_id"] == response.headers["X-Request-Id"]
    assert document["type"].removeprefix("/v1/docs#problem-") in KINDS
    if code is not None:
        assert code in [error["code"] for error in document["errors"]]
    return document


NO_BODY: Any = None
CASES: list[tuple[str, str, str, Any, dict[str, str], int, str]] = [
    ("no such address", "GET", "/v1/nothing", NO_BODY, {}, 404, "not_found"),
    ("no such page", "GET", "/nothing", NO_BODY, {}, 404, "not_found"),
    ("unknown id", "GET", "/v1/projects/01a214f1-cadc-707f-9454-a38905726110", NO_BODY, {}, 404, "not_found"),
    ("no id", "GET", "/v1/projects/7", NO_BODY, {}, 404, "not_found"),
    ("method", "PUT", "/v1/projects", {}, {}, 405, "method_not_allowed"),
    ("method of the description", "POST", "/v1/openapi.json", {}, {}, 405, "method_not_allowed"),
    ("format", "GET", "/v1/company", NO_BODY, {"Accept": "text/html"}, 406, "not_acceptable"),
    ("format of one thing", "GET", "/v1/company.csv", NO_BODY, {}, 404, "not_found"),
    ("no table of an object", "GET", "/v1/company", NO_BODY, {"Accept": "text/csv"}, 406, "not_acceptable"),
    ("content type", "POST", "/v1/projects", "x", {"Content_Type": "text/plain"}, 415, "unsupported_media_type"),
    ("no content", "POST", "/v1/projects", NO_BODY, {}, 400, "malformed"),
    ("content encoding", "POST", "/v1/projects", "{}", {"Content_Encoding": "br"}, 415, "unsupported_media_type"),
    ("not JSON", "POST", "/v1/projects", "{", {}, 400, "not_json"),
    ("empty", "POST", "/v1/projects", " ", {}, 400, "not_json"),
    ("twice the same name", "POST", "/v1/projects", '{"name": "a", "name": "b"}', {}, 400, "duplicate_key"),
    ("not a number", "POST", "/v1/projects", '{"name": NaN}', {}, 400, "not_finite"),
    ("deep", "POST", "/v1/projects", "[" * 100_000, {}, 400, "too_deep"),
    ("not UTF-8", "POST", "/v1/projects", b'{"name": "\xff"}', {}, 400, "not_utf8"),
    ("large", "POST", "/v1/projects", b" " * 300_000, {}, 413, "too_large"),
    ("missing field", "POST", "/v1/projects", {}, {}, 422, "missing"),
    ("unknown field", "POST", "/v1/projects", {"name": "a", "colour": "b"}, {}, 422, "unknown_field"),
    ("wrong type", "POST", "/v1/projects", {"name": 5}, {}, 422, "not_text"),
    ("control character", "POST", "/v1/projects", {"name": "a\u202eb"}, {}, 422, "control_character"),
    ("no object", "POST", "/v1/projects", [], {}, 422, "not_an_object"),
    ("limit", "GET", "/v1/projects?limit=501", NO_BODY, {}, 422, "too_large"),
    ("limit 0", "GET", "/v1/projects?limit=0", NO_BODY, {}, 422, "too_small"),
    ("cursor", "GET", "/v1/projects?cursor=abc", NO_BODY, {}, 422, "bad_cursor"),
    ("ordering", "GET", "/v1/projects?ordering=price", NO_BODY, {}, 422, "unknown_choice"),
    ("query field", "GET", "/v1/projects?page=2", NO_BODY, {}, 422, "unknown_field"),
    ("query field twice", "GET", "/v1/projects?limit=2&limit=3", NO_BODY, {}, 422, "given_twice"),
    ("no key for an estimate", "POST", "/v1/estimates", {}, {}, 400, "idempotency_key_missing"),
    ("strange key", "POST", "/v1/projects", {}, {"Idempotency_Key": "a b"}, 400, "bad_idempotency_key"),
    ("no If-Match", "PATCH", "/v1/company", {"name": "a"}, {}, 428, "if_match_missing"),
    ("stale", "PATCH", "/v1/company", {"name": "a"}, {"If_Match": '"old"'}, 412, "stale"),
    ("weak tag", "PATCH", "/v1/company", {"name": "a"}, {"If_Match": 'W/"x"'}, 412, "stale"),
]


@pytest.mark.parametrize(("method", "path", "body", "fields", "status", "code"), [c[1:] for c in CASES],
                         ids=[c[0] for c in CASES])  # fmt: skip
def test_a_refused_request(
    api: Api, method: str, path: str, body: Any, fields: dict[str, str], status: int, code: str
) -> None:
    response = api.send(method, path, body, **fields)
    check_problem(response, status, code)
    if status == 405:
        assert response.headers["Allow"]
    assert api.get("/v1/projects").json()["items"] == []


@pytest.mark.parametrize(
    "authorization",
    [
        "",
        "Basic abc",
        "Bearer",
        "Bearer x",
        "Bearer sw_0000000000_abc",
        "Bearer sw__",
        "Bearer \u00e9",
        "Bearer sw_a'_b",
    ],
)
def test_without_a_good_key_nothing_is_told(rules: None, authorization: str) -> None:
    response = Client().get("/v1/company", headers={"Authorization": authorization} if authorization else {})
    check_problem(response, 401, "unauthenticated")
    assert response.headers["WWW-Authenticate"].startswith("Bearer")


def test_the_secret_of_another_key_does_not_fit(office: Office) -> None:
    head, prefix, _ = office.key.split("_", 2)
    other = office.approver_key.split("_", 2)[2]
    check_problem(Api(f"{head}_{prefix}_{other}").get("/v1/company"), 401, "unauthenticated")


def test_a_scope_that_the_key_lacks(api: Api) -> None:
    made = api.post("/v1/access-keys", {"title": "reader", "scopes": ["read"]}).json()
    check_problem(Api(made["access_key"]).post("/v1/projects", {"name": "a"}), 403, "missing_scope")


def test_a_key_gives_out_no_scope_that_it_lacks(api: Api) -> None:
    made = api.post("/v1/access-keys", {"title": "giver", "scopes": ["company"]}).json()
    wanted = {"title": "taker", "scopes": ["company", "read", "estimate"]}
    document = check_problem(Api(made["access_key"]).post("/v1/access-keys", wanted), 422, "more_than_own")
    assert [error["pointer"] for error in document["errors"]] == ["/scopes/1", "/scopes/2"]


def test_a_revoked_key_fails_on_the_next_request(api: Api) -> None:
    made = api.post("/v1/access-keys", {"title": "short-lived", "scopes": ["read"]}).json()
    holder = Api(made["access_key"])
    assert holder.get("/v1/company").status_code == 200
    tag = api.get(f"/v1/access-keys/{made['id']}").headers["ETag"]
    assert api.send("DELETE", f"/v1/access-keys/{made['id']}", If_Match=tag).status_code == 204
    check_problem(holder.get("/v1/company"), 401, "unauthenticated")


def test_an_expired_key_fails(api: Api) -> None:
    past = {"title": "old", "scopes": ["read"], "expires_at": "2020-01-01T00:00:00Z"}
    check_problem(api.post("/v1/access-keys", past), 422, "in_the_past")


def test_four_faults_give_four_errors_with_their_places(api: Api, office: Office) -> None:
    request = golden_request(office, work_date="soon", method="glue", project="none")
    request["openings"][1]["width"] = "wide"
    document = check_problem(api.estimate(request), 422)
    assert sorted(error["pointer"] for error in document["errors"]) == [
        "/method", "/openings/1/width", "/project", "/work_date",
    ]  # fmt: skip
    assert all(error["line"] == 1 and error["column"] > 1 for error in document["errors"])


@pytest.mark.parametrize("where", ["document", "line", "crew"])
def test_past_a_thousand_faults_the_count_alone(api: Api, office: Office, where: str) -> None:
    unknown = {f"u{number}": 1 for number in range(1500)}
    request = golden_request(office)
    place = {"document": request, "line": request["openings"][0], "crew": request["crew"]["members"][0]}[where]
    place.update(unknown)
    document = check_problem(api.estimate(request), 422, "unknown_field" if where != "document" else "more_faults")
    assert (document["detail"], len(document["errors"])) == ("1500 faults found", 1000)
    assert {error["code"] for error in document["errors"]} <= {"unknown_field", "more_faults"}


def test_a_draft_never_prices(api: Api, office: Office) -> None:
    document = read_case("golden", "edition.json")
    draft = api.post(f"/v1/rate-books/{office.rate_book}/editions", document)
    assert draft.status_code == 201
    check_problem(api.estimate(golden_request(office, edition=draft.json()["id"])), 422, "not_approved")


def test_a_fault_of_ours_is_a_problem_too(api: Api, monkeypatch: pytest.MonkeyPatch) -> None:
    def break_down(**_: object) -> None:
        raise ZeroDivisionError("sw_0123456789_secret")

    monkeypatch.setattr(projects, "projects", break_down)
    document = check_problem(api.get("/v1/projects"), 500, "fault")
    assert "secret" not in json.dumps(document)


def test_a_strange_host_is_a_problem_too(rules: None) -> None:
    check_problem(Client().get("/v1/company", headers={"Host": "elsewhere.example"}), 400, "malformed")


def test_too_many_requests(api: Api, settings: Any) -> None:
    settings.RATE_LIMIT = 3
    answers = [api.get("/v1/company") for _ in range(5)]
    assert [answer.status_code for answer in answers] == [200, 200, 200, 429, 429]
    assert answers[0].headers["RateLimit-Policy"] == '"default";q=3;w=60'
    assert answers[0].headers["RateLimit"].startswith('"default";r=2;t=')
    assert int(answers[3].headers["Retry-After"]) <= 60
    check_problem(answers[4], 429, "too_many_requests")
