"""How Django knows this part."""

from __future__ import annotations

from django.apps import AppConfig


class Api(AppConfig):
    name = "api"
    label = "api"
    verbose_name = "API"
