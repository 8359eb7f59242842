"""The schema of a problem document (RFC 9457)."""

from __future__ import annotations

from typing import Annotated, Any, NotRequired, TypedDict

from api.rest.schemas.records import schema_of


class Fault(TypedDict):
    """One fault: where it is, a stable word for it, a sentence."""

    pointer: Annotated[str, "of the value at fault in `document` (RFC 6901)"]
    line: Annotated[int | None, "of the file as received, from 1"]
    column: Annotated[int | None, "from 1"]
    code: Annotated[str, "a stable word"]
    detail: str
    document: Annotated[str, "request, schedule, edition …"]
    sheet: NotRequired[Annotated[str, "of a workbook"]]


class Problem(TypedDict):
    """Why a request was refused, with every fault at once (RFC 9457)."""

    type: Annotated[str, "address of what is said of this kind of problem"]
    title: str
    status: int
    detail: str
    instance: Annotated[str, "the address that was asked"]
    request_id: str
    errors: list[Fault]
    current: NotRequired[Annotated[Any, "what it is now, where If-Match was stale"]]


PROBLEM = schema_of(Problem)
