"""Every page and state: no violation that axe-core finds, in light and dark, narrow and wide; valid HTML; no overflow.

axe-core 4.14 checks the rules of WCAG 2.0 to 2.2 at A and AA that a machine can, and its best practices.
"""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.browser.chromium import HERE, expect, need_package, window
from tests.browser.office import Office, sign_in
from tests.browser.prepared import prepare
from tests.browser.states import addresses

LOOKS = [(360, "light"), (360, "dark"), (1280, "light"), (1280, "dark")]
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
RUN = "async (tags) => (await axe.run(document, {runOnly: {type: 'tag', values: tags}})).violations"
VALIDATE = {
    "extends": ["html-validate:recommended"],
    "rules": {
        "no-trailing-whitespace": "off",  # templates leave blank ends of lines
        "void-style": "off",
        "long-title": "off",
        "attribute-boolean-style": "off",
        "no-inline-style": "error",
        "prefer-native-element": ["error", {"exclude": ["region", "group", "search", "status"]}],
        "require-sri": "off",
        "no-implicit-button-type": "off",  # a button of a form sends it, as HTML says
        "form-dup-name": ["error", {"shared": ["radio", "checkbox", "button", "submit"]}],
        "valid-id": ["error", {"relaxed": True}],
        "doctype-style": "off",
    },
}


@pytest.fixture(scope="module")
def found(office: Office) -> dict[str, str]:
    return prepare(office)


@pytest.fixture(scope="module")
def axe() -> str:
    return (need_package("axe-core") / "axe.min.js").read_text()


def told(violation: dict[str, Any]) -> str:
    """A violation in a line."""
    nodes = [node["html"][:160] for node in violation["nodes"][:3]]
    return f"{violation['id']}: {violation['help']}: {nodes}"


def visits(office: Office, found: dict[str, str]) -> Iterator[tuple[str, Any]]:
    """(name, page) of every state, each role signed in once."""
    by_role: dict[str, list[tuple[str, str]]] = {}
    for name, role, address in addresses(found):
        by_role.setdefault(role, []).append((name, address))
    for role, pages in by_role.items():
        with office.person(role) as page:
            for name, address in pages:
                page.goto(address)
                yield name, page
    with window(office.browser, office.base) as page:
        page.goto("/sign-in")
        yield "sign-in", page
        page.get_by_label("E-mail address").fill("nobody@demo.example")
        page.get_by_label("Password").fill("x")
        with page.expect_navigation():
            page.get_by_role("button", name="Sign in").click()
        yield "sign-in refused", page


def test_no_violation_and_no_overflow_on_any_page(office: Office, found: dict[str, str], axe: str) -> None:
    wrong = []
    for name, page in visits(office, found):
        page.evaluate(axe)
        for width, scheme in LOOKS:
            page.set_viewport_size({"width": width, "height": 900})
            page.emulate_media(color_scheme=scheme)
            wrong += [f"{name} {width} {scheme} {told(one)}" for one in page.evaluate(RUN, TAGS)]
        for width in (320, 2560):
            page.set_viewport_size({"width": width, "height": 900})
            if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
                wrong.append(f"{name} overflows at {width}")
    assert not wrong, "\n".join(wrong)


def test_every_page_is_valid_html(office: Office, found: dict[str, str], tmp_path: Path) -> None:
    need_package("html-validate")
    for name, page in visits(office, found):
        answer = page.request.get(page.url)
        (tmp_path / f"{name}.html").write_text(answer.text())
    (tmp_path / ".htmlvalidate.json").write_text(json.dumps(VALIDATE))
    command = [str(HERE / "node_modules" / ".bin" / "html-validate"), "--config", str(tmp_path / ".htmlvalidate.json")]
    answer = subprocess.run([*command, str(tmp_path)], capture_output=True, text=True, check=False, cwd=HERE)
    assert answer.returncode == 0, answer.stdout[-6000:] + answer.stderr[-2000:]


def test_a_form_refused_says_so_at_its_fields(office: Office, axe: str) -> None:
    with window(office.browser, office.base) as page:
        sign_in(page, *office.passwords["estimator"])
        page.goto("/projects/new")
        page.get_by_label("Name of the project").fill("Refused (invented)")
        page.get_by_label("Or paste the list").fill("%PDF-1.7")
        page.get_by_role("button", name="Make the project").click()
        expect(page).to_have_title(re.compile("^Not yet done"))
        expect(page.locator("[data-faults]")).to_be_focused()
        page.locator("[data-faults] a").first.click()
        expect(page.locator("#field-text")).to_be_focused()
        expect(page.get_by_label("Name of the project")).to_have_value("Refused (invented)")
        page.evaluate(axe)
        assert [told(one) for one in page.evaluate(RUN, TAGS)] == []
