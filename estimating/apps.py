"""How Django knows this part."""

from __future__ import annotations

from django.apps import AppConfig


class Estimating(AppConfig):
    name = "estimating"
    label = "estimating"
    verbose_name = "Estimating"
