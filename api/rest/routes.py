"""The table of operations: every method of every address of the API, and nothing else answers.

From it come the URL patterns, the OpenAPI description and the tests that walk all addresses.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from django.http import HttpResponseBase
from django.urls import URLPattern, re_path

from api.rest.address import Address
from api.rest.exchange import Operation
from api.rest.route_tables import (
    change_order_routes,
    estimating_routes,
    history_routes,
    people_routes,
    quote_routes,
    rates_routes,
    site_routes,
)

OPERATIONS: tuple[Operation, ...] = (
    *estimating_routes.OPERATIONS,
    *quote_routes.OPERATIONS,
    *change_order_routes.OPERATIONS,
    *site_routes.OPERATIONS,
    *history_routes.OPERATIONS,
    *rates_routes.OPERATIONS,
    *people_routes.OPERATIONS,
)
PLACES = {"id": r"(?P<id>[^/.]+)", "figure": r"(?P<figure>.*[^/])"}


def by_path(operations: Iterable[Operation]) -> dict[str, dict[str, Operation]]:
    """Operations by address and method."""
    table: dict[str, dict[str, Operation]] = {}
    for operation in operations:
        table.setdefault(operation.path, {})[operation.method] = operation
    return table


EARLIER = {"send-back": "send[-_]back", "change-prices": "change[-_]prices"}  # written with _ at first: both answer


def pattern(path: str, operations: dict[str, Operation]) -> URLPattern:
    """The URL pattern of an address; where it answers tables, a suffix may choose the format."""
    places = re.sub(r"\{(\w+)\}", lambda match: PLACES[match[1]], path.lstrip("/").replace(".", r"\."))
    for written, both in EARLIER.items():
        places = places.replace(written, both)
    tables = any({"csv", "xlsx"} & set(operation.formats) for operation in operations.values())
    suffix = r"(?:\.(?P<suffix>json|csv|xlsx))?" if tables else ""
    name = next(iter(operations.values())).path.removeprefix("/v1")
    view: Callable[..., HttpResponseBase] = Address.as_view(operations=operations)
    return re_path(rf"^{places}{suffix}\Z", view, name=name)


def patterns() -> list[URLPattern]:
    """The URL patterns of all operations; Django tries them in turn, so the most asked stand first."""
    table = sorted(by_path(OPERATIONS).items(), key=lambda entry: not entry[0].startswith("/v1/estimates"))
    return [pattern(path, operations) for path, operations in table]
