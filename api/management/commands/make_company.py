"""`manage.py make_company NAME`: a company with an empty rate book and two people, their access keys in files."""

from __future__ import annotations

import datetime
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import transaction

from api.demo import write_key
from rates import scope
from rates.actions import books, companies
from rates.core.currencies import MINOR_DIGITS
from rates.core.fields import Faults, text
from rates.roles import SCOPES

APPROVAL = "rates.approve"


class Command(BaseCommand):
    help = "Makes a company with an empty rate book; writes the keys of its two first people into files, mode 600."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name")
        parser.add_argument("--currency", default="USD", choices=sorted(MINOR_DIGITS), metavar="CODE")
        parser.add_argument("--units", default="imperial", choices=("imperial", "metric"))
        parser.add_argument("--keys", default=".", metavar="DIR", help="folder for first.key and approver.key")

    def handle(self, *args: Any, **options: Any) -> None:
        folder = Path(options["keys"])
        files = {"first.key": sorted(set(SCOPES) - {APPROVAL}), "approver.key": ["rates.read", "read", APPROVAL]}
        if not folder.is_dir():
            raise CommandError(f"{folder} is no folder.")
        taken = [name for name in files if (folder / name).exists()]
        if taken:
            raise CommandError(f"{folder.resolve()} holds {' and '.join(taken)} already.")
        faults: Faults = []
        name = text(200).read(options["name"], "/name", faults)
        if faults:
            raise CommandError(f"The company's name: {faults[0].detail}.")
        now = datetime.datetime.now(datetime.UTC)
        with transaction.atomic():
            company = companies.make_company(
                name=name, currency=options["currency"], unit_system=options["units"], now=now
            )
            with scope.company(company):
                books.make_book(company=company, name="Rates", now=now)
                for file, scopes in files.items():
                    member = companies.make_member(company=company, name=file.removesuffix(".key"), now=now)
                    made = companies.make_key(company=company, member=member, title=file, scopes=scopes, now=now)
                    write_key(folder / file, made.secret)
        self.stdout.write(
            f"Made. The access keys are in {folder.resolve() / 'first.key'} and {folder.resolve() / 'approver.key'}."
        )
