"""The crew's pages: reached by a link that ends, or by who has signed in; no money; told once, refused at its field."""

from __future__ import annotations

import datetime
import re
import string
import uuid
from typing import Any

import pytest
from django.test import Client
from structlog.testing import capture_logs

from estimating.actions import site_links
from estimating.models import SiteLink
from rates.models import Member
from tests.cast import Api, Office, make_person
from tests.db.making import cost_golden, give_link
from tests.http.test_pages import costs_of
from tests.http.visitor import Visitor


@pytest.fixture
def estimate(office: Office) -> str:
    return str(cost_golden(office))


@pytest.fixture
def crew() -> Visitor:
    return Visitor(Client(raise_request_exception=False))


def ended(office: Office, estimate: str) -> str:
    """The address of a link whose last day was yesterday."""
    now = datetime.datetime.now(datetime.UTC)
    day = datetime.timedelta(days=1)
    who = {"company": office.company, "member": office.drafter, "estimate": uuid.UUID(estimate), "title": "Crew"}
    return site_links.give(**who, expires_at=now - day, now=now - 9 * day).site_address


def typed(page: Visitor, **said: str) -> dict[str, Any]:
    """The form of a zone as it stands, with what is typed."""
    return page.fields() | {name.replace("_", "-"): [value] for name, value in said.items()}


def test_a_crew_without_a_sign_in_sees_its_zones_and_no_money(
    api: Api, office: Office, estimate: str, crew: Visitor
) -> None:
    path = give_link(office, estimate)["site_address"]
    pages = [crew.see(path), crew.see(f"{path}/1")]
    assert "North" in pages[0] and "0 of" in pages[0] and 'href="/sign' not in pages[0]
    assert "4'-0\" × 4'-0\"" in pages[1]
    document = api.get(f"/v1/estimates/{estimate}").json()
    prices = {row["price"] for row in document["by_mark"]} | {document["totals"]["price"]}
    for text in pages:
        for amount in costs_of(api, estimate) | {f"{float(one):,.2f}" for one in prices}:
            assert amount not in text
        for word in ("USD", "Price", "cost of", "Margin", "wage"):
            assert word not in text
        assert "fall protection" in text.lower()


def test_what_a_crew_tells_is_stored_once_with_its_link(api: Api, office: Office, estimate: str, crew: Visitor) -> None:
    link = give_link(office, estimate)
    path = f"{link['site_address']}/1"
    crew.see(path)
    form = typed(crew, count_0="5", hours="2.5", step="both_coats", day="2026-03-02")
    for _ in range(3):  # the signal broke off after the first
        assert crew.client.post(path, form).status_code == 303
    (record,) = api.get("/v1/job-records").json()["items"]
    assert record["link"] == link["id"] and record["hours"] == "2.50"
    assert record["counts"] == [{"mark": "A", "openings": 5}]
    shown = crew.see(path)
    assert "5 of 10" in shown and "2.50 h" in shown
    other = form | {"once": [uuid.uuid4().hex], "send_as_well": ["yes"]}  # the script's way: a mark of its own
    assert crew.client.post(path, other).status_code == 303
    assert len(api.get("/v1/job-records").json()["items"]) == 2


def test_what_does_not_fit_is_told_at_its_field(office: Office, estimate: str, crew: Visitor) -> None:
    path = f"{give_link(office, estimate)['site_address']}/1"
    crew.see(path)
    answer = crew.client.post(path, typed(crew, count_0="11", hours="2.5", step="both_coats", day="2026-03-02"))
    text = answer.content.decode()
    assert answer.status_code == 422 and "There are 10 of A in this zone" in text
    assert 'id="field-count-0"' in text and 'value="11"' in text and 'aria-invalid="true"' in text
    assert crew.client.post(path, typed(crew, hours="", step="set_up")).status_code == 422
    lost = crew.client.get(path.rpartition("/")[0] + "/99")
    assert lost.status_code == 404 and "/sign-out" not in lost.content.decode()


@pytest.mark.parametrize("how", ["revoked", "ended", "broken", "cut", "its giver left"])
def test_a_link_that_does_not_hold_lets_nobody_in(
    api: Api, office: Office, estimate: str, crew: Visitor, how: str
) -> None:
    link = give_link(office, estimate)
    path = link["site_address"]
    assert crew.client.get(path).status_code == 200
    if how == "ended":
        path = ended(office, estimate)
    elif how == "revoked":
        tag = api.get(f"/v1/site-links/{link['id']}").headers["ETag"]
        assert api.send("DELETE", f"/v1/site-links/{link['id']}", If_Match=tag).status_code == 204
    elif how == "its giver left":
        Member.objects.of(office.company).filter(pk=office.drafter).update(
            removed_at=datetime.datetime.now(datetime.UTC)
        )
    else:
        letters = string.ascii_uppercase + string.ascii_lowercase + string.digits + "-_"
        after = letters[(letters.index(path[-1]) + 1) % len(letters)]  # the last letter has bits that no byte has
        path = path[:-1] + after if how == "broken" else path[:-9]
    for address in (path, f"{path}/1"):
        answer = crew.client.get(address)
        assert answer.status_code == 404 and "ended or was revoked" in answer.content.decode()
        assert crew.client.post(address, {"hours": "1"}).status_code in (404, 405)


def test_the_secret_of_a_link_stands_in_no_log_and_no_table(office: Office, estimate: str, crew: Visitor) -> None:
    path = give_link(office, estimate)["site_address"]
    with capture_logs() as lines:
        crew.see(path)
    assert path.rpartition("/")[2] not in str(lines)
    row = SiteLink.objects.of(office.company).get()
    assert len(row.digest) == 64 and row.digest not in path


def test_who_has_signed_in_has_the_same_pages_by_role(office: Office, estimate: str) -> None:
    path = f"/estimates/{estimate}/zones"
    sales = Visitor(make_person(office, "sales", "s@build.example").client)
    assert "Tell the office" in sales.see(f"{path}/1")
    sent = sales.client.post(f"{path}/1", typed(sales, count_0="2", hours="1", step="both_coats", day="2026-03-02"))
    assert sent.status_code == 303
    viewer = Visitor(make_person(office, "viewer", "v@build.example").client)
    shown = viewer.see(f"{path}/1")
    assert "2 of 10" in shown and "Tell the office" not in shown and "<form" not in shown
    assert viewer.client.get(f"{path}/99").status_code == 404


def test_the_office_sees_how_far_the_job_is_and_gives_and_takes_links(api: Api, office: Office, estimate: str) -> None:
    estimator = Visitor(make_person(office, "estimator", "e@build.example").client)
    path = f"/estimates/{estimate}/progress"
    assert "nothing counted yet" in estimator.see(path)
    page = estimator.send_again(path, estimator.fields() | {"title": ["Crew of Ada"], "days": ["30"]}, 200)
    found = re.search(r"<textarea[^>]*>([^<]+/on-site/[^<]+)<", page)
    assert found is not None and "never again" in page
    address = "/on-site/" + found[1].partition("/on-site/")[2]
    crew = Visitor(Client(raise_request_exception=False))
    crew.see(f"{address}/1")
    crew.client.post(f"{address}/1", typed(crew, count_0="5", hours="3", step="both_coats", day="2026-03-02"))
    shown = estimator.see(path)
    assert "Crew of Ada" in shown and "2.50 h" in shown and "1.20" in shown and "<svg" in shown
    (record,) = api.get("/v1/job-records").json()["items"]
    reason = estimator.fields() | {"withdraw": [record["id"]], "reason": ["counted twice"]}
    assert estimator.client.post(path, reason).status_code == 303
    assert "counted twice" in estimator.see(path)
    (link,) = api.get("/v1/site-links").json()["items"]
    assert estimator.client.post(path, estimator.fields() | {"revoke": [link["id"]]}).status_code == 303
    assert crew.client.get(address).status_code == 404
