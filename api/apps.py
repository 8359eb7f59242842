"""How Django knows this part; at start-up it puts logging and the database's own rules in place."""

from __future__ import annotations

from typing import Any

from django.apps import AppConfig, apps
from django.conf import settings
from django.db import connections
from django.db.models.signals import post_migrate

from api.database_rules import apply_rules
from api.logs import set_up


class Api(AppConfig):
    name = "api"
    label = "api"
    verbose_name = "API"

    def ready(self) -> None:
        set_up(settings.LOGGING)
        # sent for apps with models alone; estimating's come last
        post_migrate.connect(restore_rules, sender=apps.get_app_config("estimating"))


def restore_rules(sender: AppConfig, using: str, **_: Any) -> None:
    """Puts the database's rules in place again: rebuilding a table on SQLite drops its triggers."""
    apply_rules(connections[using])
