"""`manage.py prepare_database`: by the role that owns a PostgreSQL database, the other two roles and the tables."""

from __future__ import annotations

import os
import time
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import IntegrityError, InternalError, ProgrammingError, connection, transaction
from psycopg import sql

from api.isolation import apply_isolation, lacking

TRIES = 5


class Command(BaseCommand):
    help = (
        "Makes or mends the roles APPLICATION_ROLE (owns nothing, passes by no policy) and DUMP_ROLE (reads all, for "
        "backups) with APPLICATION_PASSWORD and DUMP_PASSWORD, and migrates. Run it by the role that owns the tables."
    )

    def handle(self, *args: Any, **options: Any) -> None:
        if connection.vendor != "postgresql":
            raise CommandError("This is for PostgreSQL; on SQLite `migrate` is enough, and there are no roles.")
        with transaction.atomic():  # a service that runs meanwhile sees all of it or nothing
            with connection.cursor() as cursor:
                cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")  # a table with checks to come could not be altered
            make_role(settings.APPLICATION_ROLE, "NOBYPASSRLS", os.environ.get("APPLICATION_PASSWORD", ""))
            make_role(settings.DUMP_ROLE, "BYPASSRLS", os.environ.get("DUMP_PASSWORD", ""))
            call_command("migrate", interactive=False, verbosity=options["verbosity"])
            apply_isolation(connection)  # grants to a role that is newer than the tables
            if found := lacking(connection):
                raise CommandError("The companies' rows are not kept apart: " + "; ".join(found))


def make_role(name: str, passing: str, password: str) -> None:
    """Makes the role or mends its attributes; the password is sent hashed, and left alone where none is given."""
    connection.ensure_connection()
    server = connection.connection
    words = f"LOGIN NOSUPERUSER NOCREATEDB NOCREATEROLE NOREPLICATION {passing}"
    secret: sql.Composable = sql.SQL("")
    if password:
        hashed = server.pgconn.encrypt_password(password.encode(), name.encode()).decode()
        secret = sql.SQL(" PASSWORD {}").format(sql.Literal(hashed))
    for attempt in range(TRIES):  # roles belong to the whole server: two databases may be prepared at once
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1 FROM pg_roles WHERE rolname = %s", [name])
            verb = "ALTER" if cursor.fetchone() else "CREATE"
            statement = sql.SQL(f"{verb} ROLE {{}} {words}").format(sql.Identifier(name)) + secret
            try:
                with transaction.atomic():
                    cursor.execute(statement.as_string(server))
                return
            except (InternalError, ProgrammingError, IntegrityError):
                if attempt == TRIES - 1:
                    raise
                time.sleep(0.2)
