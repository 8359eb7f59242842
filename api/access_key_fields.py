"""What is said of a new access key, as the API and the pages read it."""

from __future__ import annotations

from typing import Any

from api.field_readers import as_given, id_text, moment
from rates.core.fields import Faults, Field, ListOf, Record, choice, text, whole
from rates.core.problems import Problem
from rates.roles import SCOPES


def check_scopes(key: dict[str, Any], pointer: str, faults: Faults) -> None:
    """A scope stands once; a key that takes another's place has that one's title and scopes."""
    rotates = "replaces" in key
    for name in ("title", "scopes"):
        if name not in key and not rotates:
            faults.append(Problem(f"{pointer}/{name}", "missing", "this is needed, or the key that is replaced"))
        if name in key and rotates:
            faults.append(Problem(f"{pointer}/{name}", "not_with_replaces", "the replaced key's own is taken"))
    if len(set(key.get("scopes", ()))) != len(key.get("scopes", ())):
        faults.append(Problem(pointer + "/scopes", "given_twice", "a scope stands once"))


NEW_KEY = Record(
    as_given,
    (
        Field("title", text(200), "what the key is for"),
        Field("scopes", ListOf(choice(*SCOPES), 1, len(SCOPES)), "what it may do"),
        Field("expires_at", moment, "when it ends by itself"),
        Field("replaces", id_text, "the key whose place it takes: same title and scopes"),
        Field("overlap_hours", whole(0, 720), "how long the replaced key goes on", default=24),
    ),
    check_scopes,
)
