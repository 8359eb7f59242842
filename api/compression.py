"""Answers as gzip where a client asks for it (RFC 9110, sections 8.4 and 12.5.3).

Never where an answer could be used against a person: what an attacker puts into a request beside a secret in its answer
shows in the length of the two compressed (https://www.breachattack.com). So an answer to a request with a cookie stays
plain, and so does whatever must not be kept, as invitations, access keys and CSRF tokens.
"""

from __future__ import annotations

import gzip
import re

from django.http import HttpRequest, HttpResponse
from django.utils.cache import patch_vary_headers

CODED = ".gz"  # what the tag of a compressed answer ends with: its bytes are others
LEAST_BYTES = 1_000
NO_WEIGHT = re.compile(r"q=0(\.0{0,3})?")
LEVEL = 4  # half of the time of the usual 6, some 5 % more bytes
KINDS = ("application/json", "text/", "image/svg+xml", "application/xml")


def takes_gzip(field: str) -> bool:
    """Whether an Accept-Encoding field allows gzip; a coding that is named goes before "*"."""
    takes = {}
    for entry in field.lower().split(","):
        name, _, parameter = entry.partition(";")
        takes[name.strip()] = not NO_WEIGHT.fullmatch(parameter.replace(" ", ""))
    return takes.get("gzip", takes.get("x-gzip", takes.get("*", False)))


def is_to_be_coded(request: HttpRequest, response: HttpResponse) -> bool:
    """Whether this answer goes out compressed."""
    field = request.META.get("HTTP_ACCEPT_ENCODING")
    if not field or request.META.get("HTTP_COOKIE") or len(response.content) < LEAST_BYTES:
        return False
    if "Content-Encoding" in response or "no-store" in response.get("Cache-Control", ""):
        return False
    return response.get("Content-Type", "").startswith(KINDS) and takes_gzip(field)


def mark_coded(response: HttpResponse) -> None:
    """The tag of the compressed answer in place of the plain one's."""
    tag = response.get("ETag")
    if tag is not None and not tag.endswith(f'{CODED}"'):
        response["ETag"] = f'{tag[:-1]}{CODED}"'


def put_coding(request: HttpRequest, response: HttpResponse) -> None:
    """Compresses the answer where it is to be."""
    if not is_to_be_coded(request, response):
        return
    mark_coded(response)
    patch_vary_headers(response, ["Accept-Encoding"])
    response.content = gzip.compress(response.content, LEVEL, mtime=0)
    response["Content-Encoding"] = "gzip"
