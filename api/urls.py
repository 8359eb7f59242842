"""The table of addresses: signs of life, the API's operations, its description."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver, path

from api import errors, health, metrics
from api.rest.description import describe, front, read_page
from api.rest.routes import patterns

urlpatterns: list[URLPattern | URLResolver] = [
    *patterns(),
    path("healthz", health.alive, name="healthz"),
    path("readyz", health.ready, name="readyz"),
    path("metrics", metrics.metrics, name="metrics"),
    path("v1/", front, name="/"),
    path("v1/openapi.json", describe, name="/openapi.json"),
    path("v1/docs", read_page, name="/docs"),
]
handler400 = errors.bad_request
handler403 = errors.forbidden
handler404 = errors.not_found
handler500 = errors.unforeseen
