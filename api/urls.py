"""The table of addresses: signs of life, the API's operations, its description, the pages."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver, path, re_path

from api import errors, health, metrics
from api.leading import lead_on
from api.pages import refusals, routes
from api.rest.description import describe, front, read_page, read_script, read_style
from api.rest.routes import patterns

urlpatterns: list[URLPattern | URLResolver] = [
    *patterns(),
    path("healthz", health.alive, name="healthz"),
    path("readyz", health.ready, name="readyz"),
    path("metrics", metrics.metrics, name="metrics"),
    path("v1/", front, name="/"),
    path("v1/openapi.json", describe, name="/openapi.json"),
    path("v1/docs", read_page, name="/docs"),
    path("v1/docs.css", read_style, name="/docs.css"),
    path("v1/docs.js", read_script, name="/docs.js"),
    *routes.patterns(),
    re_path(r"^v1(?:/.*)?\Z", lead_on, name="none"),
]
handler400 = errors.bad_request
handler403 = errors.forbidden
handler404 = refusals.not_found
handler500 = errors.unforeseen
