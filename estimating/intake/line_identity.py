"""Which line an answer or an edit belongs to: its mark, its place, its size as written; nothing that answers change.

identity > key of one question about the line > answers kept by key, so that none reaches a line that comes later
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence

from estimating.core.schedule_lines import mark_key
from estimating.intake.draft import Draft

SIZE = ("shape", "width", "height", "diameter", "springline", "rise", "points")
PARTS = "\x1f"


def identity_of(draft: Draft) -> str:
    """The identity of a line: the one it was given when it was read, else of its values now."""
    return draft.identity or PARTS.join((*place_of_draft(draft), size_as_written(draft)))


def place_of_draft(draft: Draft) -> tuple[str, str, str]:
    """Mark, storey and elevation of a line."""
    values = draft.values
    return mark_key(str(values.get("mark", ""))), str(values.get("storey", "")), str(values.get("elevation", ""))


def size_as_written(draft: Draft) -> str:
    """The size as its cells have it: a unit that was answered is no part of it."""
    if draft.size:
        return draft.size
    said = (draft.written.get(name, draft.values.get(name, "")) for name in SIZE)
    return " x ".join(str(part) for part in said if part not in ("", None))


def identify(drafts: Iterable[Draft]) -> None:
    """Gives each line its identity, before answers and edits change what it is made of.

    A line without a size has that of its mark, where the other lines of the mark have one alone.
    """
    lines = [draft for draft in drafts if not draft.identity]
    sizes: dict[str, set[str]] = {}
    for draft in lines:
        if draft.size:
            sizes.setdefault(place_of_draft(draft)[0], set()).add(draft.size)
    for draft in lines:
        of_mark = sizes.get(place_of_draft(draft)[0], ())
        if not draft.size and len(of_mark) == 1:
            draft.size = next(iter(of_mark))
    for draft in lines:
        draft.identity = draft.identity or identity_of(draft)


def digest(parts: Sequence[str]) -> str:
    """A short digest of texts."""
    return hashlib.sha256(PARTS.join(parts).encode("utf-8", "surrogatepass")).hexdigest()[:20]
