"""Every answer that may have content says how long it is: a client reads it in one piece."""

from __future__ import annotations

from tests.cast import Api


def test_content_has_a_length_and_none_has_none(api: Api) -> None:
    for path in ("/v1/company", "/v1/nowhere", "/healthz", "/v1/docs", "/v1/rate-books"):
        answer = api.get(path)
        assert answer.headers["Content-Length"] == str(len(answer.content)), path
    tag = api.get("/v1/company").headers["ETag"]
    known = api.get("/v1/company", If_None_Match=tag)
    assert known.status_code == 304 and "Content-Length" not in known.headers
    member = api.post("/v1/members", {"name": "Ann", "email": "ann@office.example", "role": "viewer"})
    path = member.headers["Location"]
    gone = api.send("DELETE", path, If_Match=api.get(path).headers["ETag"])
    assert gone.status_code == 204 and "Content-Length" not in gone.headers
