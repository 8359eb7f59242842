"""How Django knows this part."""

from __future__ import annotations

from django.apps import AppConfig


class Rates(AppConfig):
    name = "rates"
    label = "rates"
    verbose_name = "Rates and companies"
