"""Debian's Chromium, driven by its path; what is wrong on any page that it shows is noted and fails the test.

A test skips in one line where Chromium or Playwright is missing; REQUIRE_ALL=1 makes that a failure.
"""

from __future__ import annotations

import importlib
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-default-apps", "--disable-domain-reliability",
]  # fmt: skip
PATIENCE_MS = 60_000  # how long something awaited may take: a machine may have other work
HERE = Path(__file__).resolve().parent
PACKAGES = HERE / "node_modules"


def need_chromium() -> str:
    """The path of Chromium; skips the test where there is none."""
    path = shutil.which("chromium")
    if path is None:
        pytest.skip("no chromium on this machine")
    return path


def need_package(name: str) -> Path:
    """The folder of a package of npm; skips the test where `npm ci --prefix tests/browser` was not run."""
    folder = PACKAGES / name
    if not folder.is_dir():
        pytest.skip(f"no {name}: npm ci --prefix tests/browser")
    return folder


def expect(what: Any, told: str | None = None) -> Any:
    """Asserts about a page or a part of one that wait until they hold: a press does not wait for what it leads to."""
    api = importlib.import_module("playwright.sync_api")
    api.expect.set_options(timeout=PATIENCE_MS)
    return api.expect(what, told)


@contextmanager
def launched() -> Iterator[Any]:
    """Chromium without a window, with nothing kept from before."""
    path = need_chromium()
    playwright = pytest.importorskip("playwright.sync_api")
    with playwright.sync_playwright() as engine:
        browser = engine.chromium.launch(executable_path=path, args=FLAGS, headless=True)
        try:
            yield browser
        finally:
            browser.close()


@dataclass
class Noted:
    """What no page may do: errors in the console, requests to anywhere else, answers that are faults."""

    base: str
    wrong: list[str] = field(default_factory=list)

    def watch(self, context: Any) -> None:
        """Notes what all pages of a context do."""
        context.on("console", self.note_console)
        context.on("weberror", lambda error: self.wrong.append(f"script: {error.error}"))
        context.on("request", self.note_request)
        context.on("response", self.note_response)

    def note_console(self, message: Any) -> None:
        failed = message.text.startswith("Failed to load resource")
        # What a test refuses on purpose, and what was still under way (an icon, say) when it took the network away.
        meant = failed and (" 4" in message.text or "net::ERR_INTERNET_DISCONNECTED" in message.text)
        if message.type in ("error", "warning") and not meant:
            self.wrong.append(f"console: {message.text}")

    def note_request(self, request: Any) -> None:
        if not request.url.startswith((self.base, "data:", "blob:")):
            self.wrong.append(f"outside: {request.url}")

    def note_response(self, response: Any) -> None:
        if response.status >= 500:
            self.wrong.append(f"{response.status}: {response.url}")
        policy = response.headers.get("content-security-policy", "")
        is_page = "text/html" in response.headers.get("content-type", "") and response.status not in range(300, 400)
        if is_page and "script-src 'self'" not in policy:
            self.wrong.append(f"no policy: {response.url}")


@contextmanager
def window(browser: Any, base: str, *, width: int = 1280, height: int = 900, **options: Any) -> Iterator[Any]:
    """A page in a context of its own; AssertionError at the end for whatever was wrong on any page that it showed."""
    noted = Noted(base)
    size = {"width": width, "height": height}
    context = browser.new_context(
        base_url=base, viewport=size, locale="en-US", timezone_id="America/Chicago", **options
    )
    context.set_default_timeout(PATIENCE_MS)
    noted.watch(context)
    try:
        yield context.new_page()
    finally:
        context.close()
    assert not noted.wrong, "\n".join(noted.wrong)
