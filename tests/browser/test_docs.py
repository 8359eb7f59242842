"""The page of the description in a browser: axe-core finds nothing, a key that is pasted stands in the first lines."""

from __future__ import annotations

import pytest

from tests.browser.chromium import need_package, window
from tests.browser.office import Office


@pytest.mark.parametrize("width", [1200, 420])
def test_axe_finds_nothing_on_the_page_of_the_description(office: Office, width: int) -> None:
    axe = need_package("axe-core") / "axe.min.js"
    with window(office.browser, office.base, width=width, bypass_csp=True) as page:
        page.goto("/v1/docs")
        page.add_script_tag(path=str(axe))
        found = page.evaluate("axe.run({resultTypes: ['violations']})")["violations"]
        assert [(one["id"], [node["html"][:120] for node in one["nodes"][:5]]) for one in found] == []
        assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def test_a_pasted_key_stands_in_the_first_lines_and_nowhere_else(office: Office) -> None:
    with window(office.browser, office.base) as page:
        page.goto("/v1/docs")
        page.get_by_label("access key", exact=True).fill("a'key")
        lines = page.locator("#first-lines").inner_text()
        assert "export KEY='a'\\''key'" in lines and f"export BASE='{office.base}'" in lines
        assert page.content().count("a'\\''key") == 1
        page.reload()
        assert "a'" not in page.locator("#first-lines").inner_text()


def test_without_script_the_page_reads_the_same(office: Office) -> None:
    with window(office.browser, office.base, java_script_enabled=False) as page:
        page.goto("/v1/docs")
        assert "export KEY=your-access-key" in page.locator("#first-lines").inner_text()
        assert not page.get_by_label("access key", exact=True).is_visible()
