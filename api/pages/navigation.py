"""What stands around every page: who works for which company, and where one can go from here by the own role."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from api.pages.exchange import Visit
from rates.actions.sign_in import Caller


@dataclass(frozen=True)
class Way:
    """One entry of the main list of ways: `scope`: who has it; `starts`: addresses that lie behind it."""

    title: str
    to: str
    scope: str
    starts: tuple[str, ...] = ()

    def is_here(self, path: str) -> bool:
        """Whether a page lies behind this entry."""
        return path == self.to or path.startswith(self.starts or (f"{self.to}/",))


WAYS = (
    Way("Work", "/", "read", ("/estimates/", "/schedules/", "/comparisons", "/climates")),
    Way("Projects", "/projects", "read", ("/projects/", "/change-orders/")),
    Way("Quotes", "/quotes", "read", ("/quotes/", "/texts")),
    Way("Overview", "/overview", "read", ("/audit",)),
    Way("People", "/people", "company", ("/people/", "/access-keys")),
    Way("Rates", "/rates", "rates.read", ("/rates/", "/editions/")),
)


def ways_of(caller: Caller, path: str) -> list[tuple[Way, bool]]:
    """The ways that a person has, each with whether the page at this path lies behind it."""
    return [(way, way.is_here(path)) for way in WAYS if way.scope in caller.scopes]


def frame(visit: Visit, name: str) -> dict[str, Any]:
    """The values that the layout of every page takes."""
    return {
        "page_name": name,
        "is_reply": visit.request.method == "POST",
        "ways": ways_of(visit.caller, visit.request.path) if visit.caller is not None else (),
        "caller": visit.caller,
        "reader": visit.reader,
        "currency": visit.caller.currency if visit.caller is not None else "",
        "may": {scope.replace(".", "_"): True for scope in visit.caller.scopes} if visit.caller is not None else {},
    }
