"""A Django view that does nothing but answer as many bytes as it is told: what the server itself can do."""

from __future__ import annotations

import os

from django.conf import settings
from django.core.wsgi import get_wsgi_application
from django.http import HttpRequest, HttpResponse
from django.urls import path

BODY = b"x" * int(os.environ.get("BARE_BYTES", "2000"))


def answer(request: HttpRequest) -> HttpResponse:
    """The bytes."""
    return HttpResponse(BODY, content_type="application/json")


urlpatterns = [path("", answer)]
if not settings.configured:
    server = {"PROXIES": 0, "LARGE_BODY_BYTES": 2**20}
    settings.configure(SECRET_KEY="of a benchmark", ALLOWED_HOSTS=["*"], ROOT_URLCONF=__name__, MIDDLEWARE=[], **server)
application = get_wsgi_application()
