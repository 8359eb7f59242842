"""Policies and triggers of PostgreSQL put in place only where they differ: what stands is not touched, nor locked.

Beside each stands, as the database's own comment on it, from which statement it was made and how the catalogue told it
then. Where both still hold, it is as this code wants it; whatever else there is gives way, in the transaction at hand.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db import transaction

# (kind, name, table), how the catalogue tells it, the comment on it
STANDING = """
SELECT 'POLICY', p.polname::text, c.relname::text, concat_ws(' ', p.polcmd, p.polpermissive, p.polroles::text,
       pg_get_expr(p.polqual, c.oid), pg_get_expr(p.polwithcheck, c.oid)), obj_description(p.oid, 'pg_policy')
FROM pg_policy p JOIN pg_class c ON c.oid = p.polrelid WHERE c.relnamespace = 'public'::regnamespace
UNION ALL
SELECT 'TRIGGER', t.tgname::text, c.relname::text, concat_ws(' ', t.tgenabled, pg_get_triggerdef(t.oid)),
       obj_description(t.oid, 'pg_trigger')
FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid
WHERE c.relnamespace = 'public'::regnamespace AND NOT t.tgisinternal
"""


@dataclass(frozen=True)
class Definition:
    """A policy or a trigger of one table, and the statement that makes it."""

    kind: str  # POLICY or TRIGGER
    name: str
    table: str
    statement: str

    @property
    def key(self) -> tuple[str, str, str]:
        return self.kind, self.name, self.table

    def mark(self, told: str) -> str:
        """The comment on it, for a catalogue that tells it so."""
        return " ".join(hashlib.sha256(text.encode()).hexdigest()[:16] for text in (self.statement, told))


def read_standing(cursor: Any) -> dict[tuple[str, str, str], tuple[str, str]]:
    """How the catalogue tells each of them, and the comment on it."""
    cursor.execute(STANDING)
    return {(kind, name, table): (told, comment or "") for kind, name, table, told, comment in cursor.fetchall()}


def put_in_place(cursor: Any, wanted: Iterable[Definition]) -> None:
    """Makes each that is missing or is not as this code made it, all in one transaction."""
    standing = read_standing(cursor)
    differing = [
        one for one in wanted if one.key not in standing or one.mark(standing[one.key][0]) != standing[one.key][1]
    ]
    if not differing:
        return
    with transaction.atomic():
        for one in differing:
            cursor.execute(f"DROP {one.kind} IF EXISTS {one.name} ON {one.table}")
            cursor.execute(one.statement)
        standing = read_standing(cursor)
        for one in differing:
            cursor.execute(f"COMMENT ON {one.kind} {one.name} ON {one.table} IS '{one.mark(standing[one.key][0])}'")
