"""What was typed into a form that came after its session had ended: carried through the sign-in and sent once."""

from __future__ import annotations

import json
from urllib.parse import urlsplit

from django.http import HttpRequest

from api.pages.forms import SECRET

LEFT = ("csrfmiddlewaretoken", *SECRET)


def typed_fields(request: HttpRequest) -> list[tuple[str, str]]:
    """What a form sent, without what must not be carried."""
    return [(name, value) for name, values in request.POST.lists() for value in values if name not in LEFT]


def is_from_here(request: HttpRequest) -> bool:
    """Whether a form was sent by a page of this service, by what the browser itself says."""
    if request.META.get("HTTP_SEC_FETCH_SITE", "same-origin") != "same-origin":
        return False
    origin = urlsplit(request.META.get("HTTP_ORIGIN", "") or request.META.get("HTTP_REFERER", ""))
    return bool(origin.netloc) and origin.netloc == request.get_host()


def pack_fields(fields: list[tuple[str, str]]) -> str:
    """The fields as one text."""
    return json.dumps(fields, ensure_ascii=False)


def unpack_fields(text: str) -> list[tuple[str, str]]:
    """The fields again; none where the text is not ours."""
    try:
        found = json.loads(text)
    except ValueError:
        return []
    if not isinstance(found, list):
        return []
    return [(str(pair[0]), str(pair[1])) for pair in found if isinstance(pair, list) and len(pair) == 2]


def own_address(text: str) -> str:
    """An address of a page of this service, the first page for any other."""
    parts = urlsplit(text)
    ours = text.startswith("/") and not text.startswith(("//", "/\\")) and not parts.netloc and not parts.scheme
    return text if ours and text.isprintable() else "/"
