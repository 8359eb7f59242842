"""Addresses written in other ways lead on to the one that answers: a slash at the end, none after v1, _ for -.

By 308, and not served as they stand: one thing has one address, which its entries in logs, caches and kept answers
share. 308 keeps method and content, so that a POST arrives whole.
"""

from __future__ import annotations

from urllib.parse import quote

from django.http import HttpRequest, HttpResponse
from django.urls import Resolver404, resolve
from django.views.decorators.csrf import csrf_exempt

from api import errors


@csrf_exempt  # nothing is done here
def lead_on(request: HttpRequest, **places: str) -> HttpResponse:
    """308 to the address that is meant; 404 where there is none."""
    path = find_address(request.path)
    if path is None:
        return errors.not_found(request)
    query = request.META.get("QUERY_STRING", "")
    response = HttpResponse(status=308)
    response["Location"] = quote(path) + (f"?{query}" if query else "")
    del response["Content-Type"]
    return response


def find_address(path: str) -> str | None:
    """The address of the table that is meant by another writing of it; always on this host."""
    bare = path.rstrip("/")
    for meant in (bare, f"{bare}/", bare.replace("_", "-")):
        try:
            found = resolve(meant)
        except Resolver404:
            continue
        if found.func is not lead_on:
            return meant
    return None
