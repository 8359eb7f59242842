"""The few files that pages bring along, read once and served by the service itself in either mode.

The framework's own way needs a step of collecting before each start and a server beside it; a package for it answers
outside of the service's log, count and safety fields. For a handful of files a table in memory is simpler. The digest
in the address lets a browser keep each file for good; another file has another address.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

from django.http import HttpRequest, HttpResponse

from api.errors import not_found

FOLDER = Path(__file__).resolve().parent / "static"
MEDIA_TYPES = {".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml"}
FOREVER = "public, max-age=31536000, immutable"


@dataclass(frozen=True)
class StaticFile:
    """One file with its address."""

    address: str
    content: bytes
    media_type: str


def read_files() -> dict[str, StaticFile]:
    """The files by name."""
    found = {}
    for path in sorted(FOLDER.iterdir()):
        if path.suffix in MEDIA_TYPES:
            content = path.read_bytes()
            digest = hashlib.sha256(content).hexdigest()[:16]
            found[path.name] = StaticFile(f"/static/{digest}/{path.name}", content, MEDIA_TYPES[path.suffix])
    return found


FILES = read_files()
BY_ADDRESS = {file.address: file for file in FILES.values()}


def serve(request: HttpRequest, **_: str) -> HttpResponse:
    """GET /static/…: the file of exactly this digest."""
    file = BY_ADDRESS.get(request.path)
    if file is None or request.method not in ("GET", "HEAD"):
        return not_found(request)
    response = HttpResponse(file.content, content_type=file.media_type)
    response["Cache-Control"] = FOREVER
    return response
