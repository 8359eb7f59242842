"""The service with its demo as a user starts it, and its people in browsers of their own."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.browser.chromium import launched, window
from tests.service import Remote, started


@dataclass(frozen=True)
class Office:
    """A running service, a browser, the passwords of the demo's people by role, and its folder with their keys."""

    base: str
    browser: Any
    passwords: dict[str, tuple[str, str]]
    api: Remote
    folder: Path

    def api_of(self, role: str) -> Remote:
        """The API as somebody of that role has it."""
        return Remote(self.base, (self.folder / f"demo-{role.replace('_', '-')}.key").read_text().strip())

    @contextmanager
    def person(self, role: str, **options: Any) -> Iterator[Any]:
        """A page of somebody of that role who has signed in."""
        with window(self.browser, self.base, **options) as page:
            sign_in(page, *self.passwords[role])
            yield page


def sign_in(page: Any, email: str, password: str) -> None:
    """Signs in by the form."""
    page.goto("/sign-in")
    page.get_by_label("E-mail address").fill(email)
    page.get_by_label("Password").fill(password)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(lambda url: "/sign-in" not in url)


def read_passwords(folder: Path) -> dict[str, tuple[str, str]]:
    """Address and password by role, as the demo wrote them."""
    lines = (folder / "demo-sign-in.txt").read_text().splitlines()
    pairs = [line.split() for line in lines if line]
    return {email.partition("@")[0].replace("-", "_"): (email, password) for email, password in pairs}


@contextmanager
def opened(folder: Path) -> Iterator[Office]:
    """The demo's office at work; skips where there is no browser.

    RUNNING_OFFICE="http://127.0.0.1:8000 FOLDER" takes a service that runs already, with its demo: quicker at the desk.
    """
    running = os.environ.get("RUNNING_OFFICE", "")
    with launched() as browser:
        if running:
            base, place = running.split()
            key = (Path(place) / "demo.key").read_text().strip()
            yield Office(base, browser, read_passwords(Path(place)), Remote(base, key), Path(place))
            return
        with started(folder) as (api, _):
            yield Office(api.base, browser, read_passwords(folder), api, folder)
