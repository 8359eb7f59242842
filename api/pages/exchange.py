"""What a view of a page gets and gives: the values between the door and the views."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from django.http import HttpRequest, QueryDict

from api.pages.reader import Reader
from api.veil import veiled
from estimating.work.queue import Claim
from rates.actions.sign_in import Caller
from rates.core.problems import Problem


class Document(NamedTuple):
    """A document by the name of its shape (api.veil), and the scope that it is shown under."""

    name: str
    scope: str


@dataclass(frozen=True)
class Show:
    """A page: a template with its values."""

    template: str
    values: Mapping[str, Any] = field(default_factory=dict)
    status: int = 200


@dataclass(frozen=True)
class Go:
    """On to another page of ours."""

    to: str


@dataclass(frozen=True)
class Send:
    """A file to be saved; `opens`: an HTML document of ours that the browser shows."""

    content: bytes
    media_type: str
    name: str
    opens: bool = False


@dataclass(frozen=True)
class Made:
    """What a change came to: where to look at it, and what the audit keeps; `claim` for a run to work on at once.

    more: (action, subject, after) of further changes that the same form made.
    """

    to: str
    subject: uuid.UUID | None = None
    before: Any = None
    after: Any = None
    more: Sequence[tuple[str, uuid.UUID, Any]] = ()
    claim: Claim | None = None
    job: Any = None
    shown: Show | None = None  # what is shown this once in the place of `to`: a secret that nobody can look up again


@dataclass(frozen=True)
class Change:
    """What a form asks for, ready to be done: once, in one transaction with its entry in the audit."""

    action: str  # as the operation of the API is called
    act: Callable[[], Made]


@dataclass(frozen=True)
class Visit:
    """One request for a page, read. `faults`, `stale`: of a form that was refused and is shown again as typed."""

    request: HttpRequest
    caller: Caller  # None on the few pages that anybody may see
    now: datetime.datetime
    places: Mapping[str, Any]
    reader: Reader
    faults: Sequence[Problem] = ()
    stale: bool = False

    @property
    def company(self) -> uuid.UUID:
        """The company that everything is done for."""
        return self.caller.company

    @property
    def id(self) -> uuid.UUID:
        """The id in the address."""
        return uuid.UUID(str(self.places["id"]))

    def uuid_of(self, text: object) -> uuid.UUID:
        """An id that a document of ours holds as text."""
        return uuid.UUID(str(text))

    @property
    def asked(self) -> QueryDict:
        """The query of the address."""
        return self.request.GET

    @property
    def typed(self) -> QueryDict:
        """What was typed into the form; empty where none was sent."""
        return self.request.POST

    @property
    def is_part(self) -> bool:
        """Whether htmx asks for a part of the page."""
        return "HTTP_HX_REQUEST" in self.request.META and "HTTP_HX_HISTORY_RESTORE_REQUEST" not in self.request.META

    def may(self, scope: str) -> bool:
        """Whether the person may do or see what the scope stands for."""
        return self.caller is not None and scope in self.caller.scopes

    def see(self, name: str, content: Any, scope: str = "read") -> Any:
        """A document as this person may see it: costs are taken out before a template gets it."""
        return veiled(self.caller, Document(name, scope), content)


View = Callable[[Visit], "Show | Go | Send | Change"]


@dataclass(frozen=True)
class Page:
    """One address. `scope`: what a person must be allowed, "" for anybody; `post_scope`: to send its form."""

    path: str
    name: str
    get: View
    scope: str = "read"
    post: View | None = None
    post_scope: str = ""
    once: bool = True  # whether its form changes something that must not happen twice
