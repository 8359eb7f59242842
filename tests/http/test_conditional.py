"""ETag, If-None-Match and If-Match: 304 for what is known, 412 with the current state for who comes late."""

from __future__ import annotations

from api.rest.routes import OPERATIONS
from tests.cast import Api, Office
from tests.db.making import golden_request


def test_every_single_resource_has_a_strong_tag_and_answers_304(api: Api, office: Office) -> None:
    project = api.post("/v1/projects", {"name": "Clinic"}).json()
    schedule = api.post(f"/v1/projects/{project['id']}/opening-schedules", golden_request(office)["openings"]).json()
    estimate = api.estimate(golden_request(office)).json()
    base = f"/v1/estimates/{estimate['id']}"
    paths = [
        "/v1/company",
        f"/v1/rate-books/{office.rate_book}",
        f"/v1/editions/{office.edition}",
        f"/v1/editions/{office.edition}/labour",
        f"/v1/rate-books/{office.rate_book}/in-force?work_date=2027-03-15",
        f"/v1/projects/{project['id']}",
        f"/v1/opening-schedules/{schedule['id']}",
        f"/v1/opening-schedules/{schedule['id']}/source",
        base,
        f"{base}/openings",
        f"{base}/openings.csv",
        f"{base}/hours",
        f"{base}/cost-codes",
        "/v1/projects",
    ]
    for path in paths:
        first = api.get(path)
        tag = first.headers["ETag"]
        assert (first.status_code, tag[0], tag[-1]) == (200, '"', '"'), path
        for field in (tag, f'"other", {tag}', "W/" + tag, "*"):
            again = api.get(path, If_None_Match=field)
            assert (again.status_code, again.content, again.headers["ETag"]) == (304, b"", tag), path
        assert api.get(path, If_None_Match='"other"').status_code == 200


def test_formats_have_tags_of_their_own(api: Api, office: Office) -> None:
    base = f"/v1/estimates/{api.estimate(golden_request(office)).json()['id']}/hours"
    assert (
        api.get(f"/v1/editions/{office.edition}/labour").headers["ETag"]
        != (api.get(f"/v1/editions/{office.edition}/labour.csv").headers["ETag"])
    )
    assert api.get(base).headers["Vary"] == "Accept, Accept-Encoding, Authorization, Cookie"


def test_the_loser_of_a_race_sees_the_current_state(api: Api) -> None:
    project = api.post("/v1/projects", {"name": "Clinic"})
    path, tag = project.headers["Location"], project.headers["ETag"]
    assert api.get(path).headers["ETag"] == tag
    winner = api.send("PATCH", path, {"name": "Clinic, north"}, If_Match=tag)
    assert winner.status_code == 200 and winner.headers["ETag"] != tag
    loser = api.send("PATCH", path, {"name": "Clinic, south"}, If_Match=tag)
    assert loser.status_code == 412
    assert loser.json()["current"]["name"] == "Clinic, north"
    assert loser.headers["ETag"] == winner.headers["ETag"]
    assert api.get(path).json()["name"] == "Clinic, north"


def test_a_key_in_use_can_be_revoked_with_the_tag_that_was_read(api: Api) -> None:
    made = api.post("/v1/access-keys", {"title": "machine", "scopes": ["read"]})
    tag = api.get(made.headers["Location"]).headers["ETag"]
    Api(made.json()["access_key"]).get("/v1/company")
    assert api.get(made.headers["Location"]).headers["ETag"] != tag
    assert api.send("DELETE", made.headers["Location"], If_Match=tag).status_code == 204


def test_if_match_is_needed_for_every_change_of_a_thing_that_has_a_tag() -> None:
    without = {o.name for o in OPERATIONS if o.method in ("PUT", "PATCH", "DELETE") and not o.if_match}
    assert without == {"cancel-estimate", "choose-company", "sign-out"}
    steps = {o.name for o in OPERATIONS if o.path.startswith("/v1/editions/{id}/") and o.method == "POST"}
    assert steps == {o.name for o in OPERATIONS if o.name in steps and o.if_match}
