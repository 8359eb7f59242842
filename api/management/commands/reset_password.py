"""`manage.py reset_password EMAIL`: a new password for somebody who lost the own one, printed this once."""

from __future__ import annotations

import datetime
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from rates.actions.accounts import reset_password
from rates.queries.members import accounts


class Command(BaseCommand):
    help = "Gives a person a new password, ends every session of theirs and opens a locked address again."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("email")
        parser.add_argument("--company", metavar="ID", help="of the person, where several people have the address")

    def handle(self, *args: Any, **options: Any) -> None:
        email, company = options["email"].strip().lower(), options["company"]
        found = accounts(email=email)
        if company is not None:
            found = {id: there for id, there in found.items() if company in [str(place.company) for place in there]}
        if not found:
            raise CommandError(
                f"Nobody signs in with {email}{' there' if company else ''}. Who has not accepted yet is invited "
                "again: POST /v1/members/{id}/invitation."
            )
        if len(found) > 1:
            lines = [", ".join(f"{place.company} ({place.name})" for place in there) for there in found.values()]
            raise CommandError(f"{len(found)} people have {email}; name one by --company: " + "; ".join(lines))
        (person,) = found
        password = reset_password(person=person, now=datetime.datetime.now(datetime.UTC))
        self.stdout.write(f"To be changed after the first sign-in, the new password of {email}: {password}")
