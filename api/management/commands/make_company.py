"""`manage.py make_company NAME`: a company with its principal, two access keys and a rate book with a first draft.

The draft has the demo's production table, all of it invented, and empty tables of labour, materials, equipment and
overheads: what the office pays is for the office to say. `GET /v1/company` and the description tell units and allowed
values.
"""

from __future__ import annotations

import datetime
import uuid
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError
from django.core.validators import validate_email
from django.db import transaction

from api import demo
from api.demo import write_secret
from rates import scope
from rates.actions import books, companies, editions, people
from rates.actions.audit import COMMAND, note
from rates.core.currencies import MINOR_DIGITS
from rates.core.fields import Faults, text
from rates.core.length_styles import DENOMINATORS, STYLES
from rates.roles import SCOPES, Role

APPROVAL = "rates.approve"
FILES = {"first.key": sorted(set(SCOPES) - {APPROVAL}), "approver.key": ["costs", "rates.read", "read", APPROVAL]}
INVITATION = "principal.invitation"
STARTER = "Starter. The production table is invented: replace it with what your crews do."


def read_name(raw: str, whose: str) -> str:
    """A name as the API takes it; CommandError for one that is blank, too long or holds control characters."""
    faults: Faults = []
    name = text(200).read(raw, "/name", faults)
    if faults:
        raise CommandError(f"The {whose}'s name: {faults[0].detail}.")
    return str(name)


class Command(BaseCommand):
    help = "Makes a company; writes its first two access keys, and the principal's invitation, into files, mode 600."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name")
        parser.add_argument("--currency", default="USD", choices=sorted(MINOR_DIGITS), metavar="CODE")
        parser.add_argument("--units", default="imperial", choices=("imperial", "metric"))
        parser.add_argument(
            "--length-style", choices=STYLES, help="how people read lengths; feet_inches or mm by the units if absent"
        )
        parser.add_argument("--length-denominator", type=int, default=16, choices=DENOMINATORS, help="inches to 1/n")
        parser.add_argument("--keys", default=".", metavar="DIR", help=f"folder for {', '.join(FILES)}, {INVITATION}")
        parser.add_argument("--principal", metavar="EMAIL", help="invites the person who signs in as principal")
        parser.add_argument("--principal-name", default="Principal", metavar="NAME")

    def handle(self, *args: Any, **options: Any) -> None:
        folder = Path(options["keys"]).resolve()
        if not folder.is_dir():
            raise CommandError(f"{folder} is no folder.")
        taken = [name for name in (*FILES, INVITATION) if (folder / name).exists()]
        if taken:
            raise CommandError(f"{folder} holds {' and '.join(taken)} already.")
        name = read_name(options["name"], "company")
        options["principal_name"] = read_name(options["principal_name"], "principal")
        if options["principal"]:
            try:
                validate_email(options["principal"])
            except ValidationError:
                raise CommandError(f"{options['principal']} is no e-mail address.") from None
        now = datetime.datetime.now(datetime.UTC)
        with transaction.atomic():
            company = companies.make_company(
                name=name,
                currency=options["currency"],
                unit_system=options["units"],
                length_style=options["length_style"],
                length_denominator=options["length_denominator"],
                now=now,
            )
            with scope.company(company):
                drafter = self.make_keys(company, folder, now)
                self.make_rates(company, drafter, options["currency"], now)
                if options["principal"]:
                    self.invite_principal(company, folder, options, now)
                note(company=company, source=COMMAND, action="make-company", now=now, subject=company)
        self.stdout.write(f"Made. The access keys are in {folder / 'first.key'} and {folder / 'approver.key'}.")
        if options["principal"]:
            self.stdout.write(
                f"The principal opens /invitation in a browser and puts in the text of {folder / INVITATION};"
                " programs send it by POST /v1/session/invitation."
            )

    def make_keys(self, company: uuid.UUID, folder: Path, now: datetime.datetime) -> uuid.UUID:
        """The first of two members who have a key each: two, so that one can approve what the other drafts."""
        members = []
        for file, scopes in FILES.items():
            member = companies.make_member(company=company, name=file.removesuffix(".key"), now=now)
            made = companies.make_key(company=company, member=member, title=file, scopes=scopes, now=now)
            write_secret(folder / file, made.secret)
            members.append(member)
        return members[0]

    def make_rates(self, company: uuid.UUID, member: uuid.UUID, currency: str, now: datetime.datetime) -> None:
        """A rate book with a draft that holds a production table, and nothing that anybody would be paid by."""
        book = books.make_book(company=company, name="Rates", now=now)
        tables: dict[str, Any] = {"labour": [], "materials": [], "equipment": [], "overheads": []}
        document = {
            "effective_from": now.date().isoformat(),
            "currency": currency,
            "note": STARTER,
            "tables": tables | {"production": demo.read(demo.RATES[0])["tables"]["production"]},
        }
        editions.draft_edition(company=company, rate_book=book.id, member=member, document=document, now=now)

    def invite_principal(
        self, company: uuid.UUID, folder: Path, options: dict[str, Any], now: datetime.datetime
    ) -> None:
        """Invites the principal; the text of the invitation goes into a file."""
        made = people.invite(
            company=company, name=options["principal_name"], email=options["principal"], role=Role.PRINCIPAL, now=now
        )
        write_secret(folder / INVITATION, made.invitation)
