"""The second layer between companies, on PostgreSQL: policies, composite keys, grants; what lacks; who may connect.

Made from the models, put in place after every migrate, read back from the database's own catalogue. The service's role
owns nothing and passes by no policy; the owner migrates, a third role reads everything for backups. Not FORCE: the
owner's data migrations would change no row, and its backup be empty.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from typing import Any

from django.apps import apps
from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.db import OperationalError, connection, transaction
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.backends.signals import connection_created
from django.db.models import ForeignKey, Model

from api.definitions import Definition, put_in_place
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


def policy(table: str, column: str, *, before_known: bool) -> Definition:
    """The policy of one table; `before_known`: outside of any company's scope all rows are seen."""
    condition = f"{column} = {HERE}"
    if before_known:
        condition = f"({HERE} IS NULL OR {condition})"
    statement = f"CREATE POLICY {POLICY} ON {table} USING ({condition}) WITH CHECK ({condition})"
    return Definition("POLICY", POLICY, table, statement)


def key_statements(model: Any) -> Iterator[tuple[str, str]]:
    """(name, SQL) of the composite keys of one model's table."""
    for field in model._meta.fields:
        target = field.related_model if isinstance(field, ForeignKey) else None
        if not isinstance(target, type) or not has_company(target):
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
    """Puts policies, composite keys and grants in place on PostgreSQL where they differ, in one transaction.

    Elsewhere there is only the first layer.
    """
    if connection.vendor != "postgresql":
        return
    tables = set(connection.introspection.table_names())
    models = [model for model in own_models() if model._meta.db_table in tables]
    with transaction.atomic(), connection.cursor() as cursor:
        apply_policies(cursor, models)
        cursor.execute("SELECT conname FROM pg_constraint")
        present = {name for (name,) in cursor.fetchall()}
        for model in filter(has_company, models):
            for name, statement in key_statements(model):
                if name not in present:
                    cursor.execute(statement)
                    present.add(name)
        grant(cursor)


def apply_policies(cursor: Any, models: Iterable[type[Model]]) -> None:
    """Row-level security of every table with a company, and of the companies' own."""
    columns = {model: "company_id" if has_company(model) else "id" for model in models}
    secured = {m: c for m, c in columns.items() if c == "company_id" or m._meta.db_table == "rates_company"}
    put_in_place(
        cursor,
        [
            policy(model._meta.db_table, column, before_known=model._meta.label in WITHOUT_COMPANY)
            for model, column in secured.items()
        ],
    )
    cursor.execute(
        "SELECT relname FROM pg_class WHERE relnamespace = 'public'::regnamespace AND NOT relrowsecurity"
        " AND relname = ANY(%s) ORDER BY 1",
        [[model._meta.db_table for model in secured]],
    )
    for (table,) in cursor.fetchall():  # last: a table with a policy never shows less than the policy lets through
        cursor.execute(f"ALTER TABLE {table} ENABLE ROW LEVEL SECURITY")


LACKING_RIGHTS = """
SELECT c.oid::regclass::text, c.relkind = 'S' FROM pg_class c
WHERE c.relnamespace = 'public'::regnamespace AND CASE WHEN c.relkind IN ('r', 'p')
  THEN EXISTS (SELECT 1 FROM unnest(%s::text[]) r WHERE NOT has_table_privilege(%s, c.oid, r))
  WHEN c.relkind = 'S' THEN NOT has_sequence_privilege(%s, c.oid, 'USAGE')
       OR NOT has_sequence_privilege(%s, c.oid, 'SELECT') END
"""


def grant(cursor: Any) -> None:
    """Gives the service's role and the dump's what they lack, where they exist, and takes away what is too much."""
    cursor.execute("SELECT rolname::text FROM pg_roles WHERE rolname = ANY(%s)", [[*rights()]])
    for (role,) in cursor.fetchall():
        quoted = f'"{role}"'
        cursor.execute("SELECT has_schema_privilege(%s, 'public', 'USAGE')", [role])
        if cursor.fetchone() == (False,):
            cursor.execute(f"GRANT USAGE ON SCHEMA public TO {quoted}")
        cursor.execute(LACKING_RIGHTS, [rights()[role], role, role, role])
        for name, sequence in cursor.fetchall():
            if name not in READ_ONLY:
                given = "USAGE, SELECT ON SEQUENCE" if sequence else f"{', '.join(rights()[role])} ON TABLE"
                cursor.execute(f"GRANT {given} {name} TO {quoted}")
        for table in READ_ONLY:
            limit_to_reading(cursor, table, role)


def limit_to_reading(cursor: Any, table: str, role: str) -> None:
    """Lets a role read a table and nothing else, where that is not so already."""
    cursor.execute(
        "SELECT has_table_privilege(%s, %s, 'SELECT'), has_table_privilege(%s, %s, 'INSERT, UPDATE, DELETE')",
        [role, table, role, table],
    )
    reads, writes = cursor.fetchone()
    if not reads:
        cursor.execute(f'GRANT SELECT ON {table} TO "{role}"')
    if writes:
        cursor.execute(f'REVOKE INSERT, UPDATE, DELETE ON {table} FROM "{role}"')


def rights() -> dict[str, list[str]]:
    """The rights on tables by role."""
    return {settings.APPLICATION_ROLE: ["SELECT", "INSERT", "UPDATE", "DELETE"], settings.DUMP_ROLE: ["SELECT"]}


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
