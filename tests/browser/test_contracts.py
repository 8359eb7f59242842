"""After the award: what the contract comes to and its changes; and a person invited who then works here."""

from __future__ import annotations

import re
import uuid

import pytest

from tests.browser.chromium import expect, window
from tests.browser.office import Office
from tests.browser.prepared import step
from tests.browser.test_sales import quoted, tab_to


@pytest.mark.parametrize("script", [True, False])
def test_a_change_goes_from_the_phone_call_to_the_contract(office: Office, script: bool) -> None:
    project, quote = quoted(office, f"Contract, script {script} (invented)")
    step(office, quote, "award", {"reason": "By telephone."})
    awarded = office.api.get(f"/v1/quotes/{quote}")[1]["price"]
    with office.person("estimator", java_script_enabled=script) as page:
        page.goto(f"/projects/{project}")
        page.get_by_role("link", name="Contract and change orders", exact=True).click()
        page.get_by_role("link", name="New change order").click()
        page.get_by_label("What it is called").fill("Sill pans at the stair")
        page.get_by_label("time and material").check()
        page.get_by_text("By time and material", exact=True).click()
        page.get_by_label("Hours, Mechanic").fill("eight")
        page.get_by_role("button", name="Propose it").click()
        expect(page.get_by_role("link", name=re.compile("Hours, Mechanic"))).to_have_count(1)
        expect(page.get_by_label("What it is called")).to_have_value("Sill pans at the stair")
        page.get_by_label("Hours, Mechanic").fill("8")
        page.get_by_role("button", name="Propose it").click()
        page.get_by_role("link", name="It is agreed").click()
        page.get_by_label("What was agreed").fill("Letter of 3 April")
        with page.expect_navigation():
            page.get_by_role("button", name="It is agreed").click()
        page.get_by_role("link", name="Contract and change orders").first.click()
        (contract,) = office.api.get(f"/v1/projects/{project}/change-orders")[1]["contracts"]
        assert contract["awarded"] == awarded and contract["contract"] != awarded
        expect(page.locator(".facts .first dd")).to_have_text(f"{float(contract['contract']):,.2f} USD")


def test_a_change_is_directed_by_keyboard_alone(office: Office) -> None:
    project, quote = quoted(office, "Contract by keyboard (invented)")
    step(office, quote, "award", {"reason": "By telephone."})
    said = {"title": "Doors that come later"}
    path = f"/v1/projects/{project}/change-orders"
    status, order, _ = office.api.send("POST", path, said, Idempotency_Key=str(uuid.uuid4()))
    assert status == 201
    with office.person("sales") as page:
        page.goto(f"/change-orders/{order['id']}")
        tab_to(page, "The customer says go ahead")
        page.keyboard.press("Enter")
        page.wait_for_url("**/direct")
        tab_to(page, "Who gave it")
        page.keyboard.type("The architect")
        page.keyboard.press("Tab")
        page.keyboard.press("Tab")
        page.keyboard.type("04022027")
        tab_to(page, "The customer says go ahead")
        page.keyboard.press("Enter")
        page.wait_for_url(f"**/change-orders/{order['id']}")
        expect(page.get_by_text("The architect, Apr 2, 2027")).to_be_visible()


def test_who_is_invited_signs_in_with_a_password_of_the_own(office: Office) -> None:
    email = f"ada-{uuid.uuid4().hex[:8]}@demo.example"
    with office.person("principal") as page:
        page.goto("/people/new")
        page.get_by_label("Name").fill("Ada Mason (invented)")
        page.get_by_label("E-mail address").fill(email)
        page.get_by_label(re.compile("^Viewer")).check()
        page.get_by_role("button", name="Make the invitation").click()
        invitation = page.get_by_label("Invitation", exact=True).input_value()
        expect(page.get_by_text("never again")).to_be_visible()
        page.reload()
        assert invitation not in page.content(), "a page loaded again makes and shows none"
    with window(office.browser, office.base) as page:
        page.goto("/invitation")
        page.get_by_label("Invitation").fill(invitation)
        page.get_by_label("Password").fill("a long pass phrase of Ada")
        page.get_by_role("button", name="Accept").click()
        page.get_by_role("heading", name=re.compile("^Work of")).wait_for()
        expect(page.get_by_text("Ada Mason (invented), viewer")).to_be_visible()
        expect(page.get_by_role("link", name="People")).to_have_count(0)
