"""The second layer between companies, on PostgreSQL: policies, composite keys, grants; what lacks; who may connect.

Made from the models, put in place after every migrate, read back from the database's own catalogue. The service's role
owns nothing and passes by no policy; the owner migrates, a third role reads everything for backups. Not FORCE: the
owner's data migrations would change no row, and its backup be empty.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from typing import Any

from django.apps import apps
from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.db import OperationalError, connection
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.backends.signals import connection_created
from django.db.models import ForeignKey, Model

from rates.scope import SETTING, WITHOUT_COMPANY

POLICY = "own_company"
HERE = f"NULLIF(current_setting('{SETTING}', true), '')::uuid"
# Tables without a company's column, and unique indexes without the company: each with its reason
NO_COLUMN = {
    "rates_company": "is the company itself; inside a company's scope it shows that one alone",
    "rates_person": "a person may belong to several companies",
    "rates_signinfailures": "counted before anybody is known",
    "estimating_workerbeat": "signs of life of the workers",
    "django_session": "read before a company is known",
    "django_migrations": "which migrations have run",
}
UNIQUE_EVERYWHERE = {"rates_accesskey": "prefix: looked up before the company is known"}
READ_ONLY = ("django_migrations",)


def own_models() -> list[type[Model]]:
    """The models of the service."""
    return [model for label in ("rates", "estimating") for model in apps.get_app_config(label).get_models()]


def has_company(model: Any) -> bool:
    """Whether rows of the model carry a company."""
    return any(field.name == "company" for field in model._meta.fields)


def short(name: str) -> str:
    """A name as PostgreSQL keeps it: at most 63 characters."""
    return name if len(name) <= 63 else f"{name[:54]}_{hashlib.sha256(name.encode()).hexdigest()[:8]}"


def policy_statements(table: str, column: str, *, before_known: bool) -> Iterator[str]:
    """Row-level security of one table; `before_known`: outside of any company's scope all rows are seen."""
    condition = f"{column} = {HERE}"
    if before_known:
        condition = f"({HERE} IS NULL OR {condition})"
    yield f"ALTER TABLE {table} ENABLE ROW LEVEL SECURITY"
    yield f"DROP POLICY IF EXISTS {POLICY} ON {table}"
    yield f"CREATE POLICY {POLICY} ON {table} USING ({condition}) WITH CHECK ({condition})"


def key_statements(model: Any) -> Iterator[tuple[str, str]]:
    """(name, SQL) of the composite keys of one model's table."""
    for field in model._meta.fields:
        target = field.related_model if isinstance(field, ForeignKey) else None
        if target is None or not has_company(target):
            continue
        table, to = model._meta.db_table, target._meta.db_table
        key = target._meta.pk.column
        yield (
            short(f"{to}_of_company_key"),
            f"ALTER TABLE {to} ADD CONSTRAINT {short(f'{to}_of_company_key')} UNIQUE (company_id, {key})",
        )
        name = short(f"{table}_{field.column}_of_company")
        yield (
            name,
            f"ALTER TABLE {table} ADD CONSTRAINT {name} FOREIGN KEY (company_id, {field.column})"
            f" REFERENCES {to} (company_id, {key}) DEFERRABLE INITIALLY DEFERRED",
        )


def apply_isolation(connection: BaseDatabaseWrapper) -> None:
    """Puts policies, composite keys and grants in place on PostgreSQL; elsewhere there is only the first layer."""
    if connection.vendor != "postgresql":
        return
    tables = set(connection.introspection.table_names())
    with connection.cursor() as cursor:
        cursor.execute("SELECT conname FROM pg_constraint")
        present = {name for (name,) in cursor.fetchall()}
        for model in own_models():
            table = model._meta.db_table
            if table not in tables or not (has_company(model) or table == "rates_company"):
                continue
            column = "company_id" if has_company(model) else "id"
            for statement in policy_statements(table, column, before_known=model._meta.label in WITHOUT_COMPANY):
                cursor.execute(statement)
            for name, statement in key_statements(model):
                if name not in present:
                    cursor.execute(statement)
                    present.add(name)
        grant(cursor)


def grant(cursor: Any) -> None:
    """What the service's role and the dump's may do, where they exist."""
    cursor.execute("SELECT rolname FROM pg_roles WHERE rolname = ANY(%s)", [[*rights()]])
    for (role,) in cursor.fetchall():
        quoted = f'"{role}"'
        cursor.execute(f"GRANT USAGE ON SCHEMA public TO {quoted}")
        cursor.execute(f"GRANT {rights()[role]} ON ALL TABLES IN SCHEMA public TO {quoted}")
        cursor.execute(f"GRANT USAGE, SELECT ON ALL SEQUENCES IN SCHEMA public TO {quoted}")
        for table in READ_ONLY:
            cursor.execute(f"REVOKE INSERT, UPDATE, DELETE ON {table} FROM {quoted}")


def rights() -> dict[str, str]:
    """The rights on tables by role."""
    return {settings.APPLICATION_ROLE: "SELECT, INSERT, UPDATE, DELETE", settings.DUMP_ROLE: "SELECT"}


TABLES = """
SELECT c.relname, c.relrowsecurity,
       EXISTS (SELECT 1 FROM pg_policy p WHERE p.polrelid = c.oid AND p.polpermissive AND p.polcmd = '*'),
       EXISTS (SELECT 1 FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attname = 'company_id' AND NOT attisdropped)
FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p') ORDER BY 1
"""
KEYS = """
SELECT k.conrelid::regclass::text, k.confrelid::regclass::text,
       array_agg(a.attname::text ORDER BY u.place)
FROM pg_constraint k CROSS JOIN unnest(k.conkey) WITH ORDINALITY u(number, place)
JOIN pg_attribute a ON a.attrelid = k.conrelid AND a.attnum = u.number
WHERE k.contype = 'f' AND k.connamespace = 'public'::regnamespace GROUP BY k.oid, 1, 2 ORDER BY 1, 3
"""
UNIQUES = """
SELECT i.indrelid::regclass::text, i.indexrelid::regclass::text,
       array_agg(a.attname::text)
FROM pg_index i JOIN pg_class c ON c.oid = i.indrelid
JOIN pg_attribute a ON a.attrelid = i.indrelid AND a.attnum = ANY(i.indkey)
WHERE i.indisunique AND NOT i.indisprimary AND c.relnamespace = 'public'::regnamespace GROUP BY 1, 2 ORDER BY 1, 2
"""


def lacking(connection: BaseDatabaseWrapper) -> list[str]:
    """What the database's catalogue lacks of the second layer, table by table, a sentence each."""
    with connection.cursor() as cursor:
        cursor.execute(TABLES)
        tables = cursor.fetchall()
        cursor.execute(KEYS)
        keys = cursor.fetchall()
        cursor.execute(UNIQUES)
        uniques = cursor.fetchall()
    owned = {table for table, _, _, column in tables if column}
    found = [f"{table} has no company and is not listed" for table, *_, column in tables
             if not column and table not in NO_COLUMN]  # fmt: skip
    for table, secured, policy, _ in tables:
        if table in owned or table == "rates_company":
            found += [] if secured else [f"{table} has row-level security switched off"]
            found += [] if policy else [f"{table} has no policy"]
    pairs = {(table, to, tuple(columns)) for table, to, columns in keys}
    found += [
        f"{table}.{columns[0]} has no composite key to {to}"
        for table, to, columns in pairs
        if len(columns) == 1 and {table, to} <= owned and (table, to, ("company_id", columns[0])) not in pairs
    ]
    found += [
        f"{table} has the unique index {index} without its company"
        for table, index, columns in uniques
        if table in owned and "company_id" not in columns and table not in UNIQUE_EVERYWHERE
    ]
    return sorted(found)


ROLE = """
SELECT EXISTS (SELECT 1 FROM pg_roles r WHERE (r.rolsuper OR r.rolbypassrls)
               AND pg_has_role(current_user, r.oid, 'MEMBER')),
       EXISTS (SELECT 1 FROM pg_class c WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p')
               AND pg_has_role(current_user, c.relowner, 'MEMBER'))
"""


def refuse_strong_role(connection: BaseDatabaseWrapper) -> None:
    """ImproperlyConfigured where the role that is connected could pass by the policies, or owns a table."""
    if connection.vendor != "postgresql":
        return
    with connection.cursor() as cursor:
        cursor.execute(ROLE)
        passes, owns = cursor.fetchone()
    if passes or owns:
        why = "may pass by row-level security" if passes else "owns the tables"
        raise ImproperlyConfigured(f"The role of DATABASE_URL {why}; the service runs by a role that does neither.")


def guard() -> None:
    """Called where the service starts: refuses a role that is too strong, now and on every connection to come."""
    connection_created.connect(check_connection, dispatch_uid="strong role")
    try:
        connection.ensure_connection()
    except OperationalError:
        return  # a database that is away is waited for; it will be checked when it comes
    refuse_strong_role(connection)
    connection.close()


def check_connection(sender: Any, connection: BaseDatabaseWrapper, **_: Any) -> None:
    """Checks a new connection of the service."""
    refuse_strong_role(connection)
