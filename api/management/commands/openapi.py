"""`manage.py openapi`: writes the API description to api/rest/openapi.json; --check only compares."""

from __future__ import annotations

import json
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from api.rest.openapi import build


def committed() -> Path:
    """Where the description stands in the repository."""
    return settings.BASE_DIR / "api" / "rest" / "openapi.json"


def write() -> str:
    """The description as it is committed."""
    return json.dumps(build(), indent=1, ensure_ascii=False) + "\n"


class Command(BaseCommand):
    help = "Writes the OpenAPI description to api/rest/openapi.json."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--check", action="store_true", help="only compare, status 1 where they differ")

    def handle(self, *args: Any, **options: Any) -> None:
        if not options["check"]:
            committed().write_text(write())
        elif not committed().exists() or committed().read_text() != write():
            raise CommandError("api/rest/openapi.json differs from the code; run manage.py openapi and review it.")
