"""What a view gets and gives, and how an operation is described: the values between HTTP and the views."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from estimating.actions.estimates import Submitted
from estimating.outputs.quotes.files import SentDocument
from rates.actions.sign_in import Caller
from rates.core.fields import Field, Record
from rates.paging import Page, Wanted
from rates.refusals import Expected

MERGE_PATCH = "application/merge-patch+json"  # RFC 7396
TABLE_ROWS = 100_000  # rows of a CSV or XLSX list without a limit of its own


@dataclass(frozen=True)
class File:
    """A body that is no JSON: bytes with their media type, offered under a name."""

    content: bytes
    media_type: str
    name: str


@dataclass(frozen=True)
class Answer:
    """What a view answers: a value to be written as JSON (bytes: already JSON), a page of a list, or a file."""

    content: Any = None
    status: int = 200
    tag: str | None = None
    location: str | None = None
    headers: Mapping[str, str] = field(default_factory=dict)
    secret: bool = False  # shows something that is never kept
    changed: Any = None  # what the audit keeps as the state after, where it is not the content
    beside: Mapping[str, Any] = field(default_factory=dict)  # what stands in JSON beside the items of a page
    stored: bool = True  # False for a look ahead, of which the audit keeps nothing


@dataclass(frozen=True)
class Call:
    """One request, read: who, which ids, query, body, and what the header fields say."""

    caller: Caller  # None where nobody needs to be known
    company: uuid.UUID  # that everything is done for; None without a caller
    id: uuid.UUID  # in the address; None where it has none
    now: datetime.datetime
    path: str
    places: Mapping[str, Any]
    query: Mapping[str, Any]
    body: Any
    data: bytes
    media_type: str
    format: str
    expected: Expected
    wait_seconds: int | None = None
    request: Any = None  # for sessions, and for the audit's "from where"

    @property
    def wanted(self) -> Wanted:
        """Which page of a list: a table in CSV or XLSX is whole unless a limit is given."""
        limit = self.query.get("limit") or (100 if self.format == "json" else TABLE_ROWS)
        return Wanted(limit, self.query.get("cursor"), self.query.get("ordering"))


@dataclass(frozen=True)
class Shown:
    """A run's subject as it is now."""

    state: str
    content: Any
    tag: str


@dataclass(frozen=True)
class Pending:
    """A run that a view has prepared: how large it is, how it is stored, what was read already."""

    lines: int
    submit: Callable[..., Submitted]  # called with at_once: whether this process works on it
    job: Any = None
    eager: bool = False  # waited for without being asked, where small


View = Callable[[Call], "Answer | Pending | Callable[[], Answer]"]


@dataclass(frozen=True)
class Operation:
    """One method of one address.

    `scope`: what the caller must be allowed, "" for anybody. `body`: field table, or None where the view reads `data`
    itself. `media`: content types taken. `formats`: what it answers in. `idempotency`: "", "accepted" or "required".
    `clears`: of a PATCH, what a field becomes that null takes away.
    `atomic`: the dispatcher puts a transaction around the view; otherwise around the Pending or the function that
    the view gives back after its reading. `show`: how the run of a Pending is shown.
    """

    method: str
    path: str
    name: str
    view: View
    summary: str
    scope: str
    answers: Mapping[int, str]
    body: Record | None = None
    media: tuple[str, ...] = ()
    query: tuple[Field, ...] = ()
    formats: tuple[str, ...] = ("json",)
    if_match: bool = False
    idempotency: str = ""
    atomic: bool = True
    show: Callable[[Call, uuid.UUID], Shown] | None = None
    schema: str = ""  # the name of the body's schema, where it is not made from `body`
    clears: Mapping[str, Any] = field(default_factory=dict)
    largest: int | None = None  # bytes of the body; None: the setting for small documents


def listing(page: Page[Any], *, headers: Mapping[str, str] | None = None, **beside: Any) -> Answer:
    """A page as an answer, in JSON with what stands beside its items."""
    return Answer(page, headers=headers or {}, beside=beside)


def sent(document: SentDocument) -> Answer:
    """A document as a file, its digest the tag."""
    return Answer(File(document.content, document.media_type, document.file_name), tag=document.digest)
