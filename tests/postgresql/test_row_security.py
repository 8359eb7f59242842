"""Row-level security, composite keys and roles: what each company's scope lets through, and nothing besides."""

from __future__ import annotations

import uuid
from typing import Any

import pytest
from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.db import DatabaseError, IntegrityError, connection, transaction

from api.database_rules import apply_rules
from api.isolation import NO_COLUMN, lacking, own_models, refuse_strong_role
from estimating.models import Project
from rates.models import Edition, RateBook
from rates.scope import CompanyMissing, changes_of, company, reads_of
from tests.cast import NOW, Office

Offices = tuple[Office, Office]
TABLES = sorted(m._meta.db_table for m in own_models() if m._meta.db_table not in set(NO_COLUMN) - {"rates_company"})


def run(statement: str, *values: Any) -> list[tuple[Any, ...]]:
    """The rows of a statement."""
    with connection.cursor() as cursor:
        cursor.execute(statement, values)
        return cursor.fetchall() if cursor.description else []


@pytest.mark.django_db
def test_the_catalogue_lacks_nothing() -> None:
    assert lacking(connection) == []
    assert len(TABLES) > 10


@pytest.mark.django_db
@pytest.mark.parametrize("table", TABLES)
def test_a_policy_that_is_gone_is_named(table: str) -> None:
    run(f"DROP POLICY own_company ON {table}")
    assert lacking(connection) == [f"{table} has no policy"]
    run(f"ALTER TABLE {table} DISABLE ROW LEVEL SECURITY")
    assert f"{table} has row-level security switched off" in lacking(connection)


OIDS = """
SELECT oid, 'policy' FROM pg_policy UNION SELECT oid, 'trigger' FROM pg_trigger WHERE NOT tgisinternal ORDER BY 2, 1
"""


@pytest.mark.django_db
def test_what_stands_is_left_alone_and_what_was_changed_is_mended() -> None:
    before = run(OIDS)
    apply_rules(connection)
    assert run(OIDS) == before and len(before) > 30
    run("ALTER POLICY own_company ON estimating_project USING (true)")
    run("ALTER TABLE rates_edition DISABLE TRIGGER edition_kept")
    apply_rules(connection)
    assert len(set(run(OIDS)) - set(before)) == 2
    open_to_all = "SELECT 1 FROM pg_policy WHERE pg_get_expr(polqual, polrelid) = 'true'"
    assert run(open_to_all) == []
    assert run("SELECT tgenabled FROM pg_trigger WHERE tgname = 'edition_kept'") == [("O",)]
    before = run(OIDS)
    apply_rules(connection)
    assert run(OIDS) == before


COMPOSITE = (
    "SELECT conrelid::regclass::text, conname FROM pg_constraint WHERE contype = 'f' AND conname LIKE '%%of_company'"
)


@pytest.mark.django_db
def test_a_composite_key_that_is_gone_is_named() -> None:
    keys = run(COMPOSITE)
    assert len(keys) > 15
    for table, name in keys:
        with transaction.atomic():
            run(f"ALTER TABLE {table} DROP CONSTRAINT {name}")
            (found,) = lacking(connection)
            assert found.startswith(f"{table}.") and "no composite key" in found
            transaction.set_rollback(True)


@pytest.mark.django_db
def test_a_unique_index_without_the_company_is_named_and_a_table_without_one() -> None:
    run("CREATE UNIQUE INDEX once ON estimating_project (name)")
    run("CREATE TABLE stray (id int)")
    assert lacking(connection) == [
        "estimating_project has the unique index once without its company",
        "stray has no company and is not listed",
    ]


def test_a_scope_shows_its_own_company_alone(service: Offices) -> None:
    mine, other = service
    counts = "SELECT company_id, count(*) FROM rates_edition GROUP BY 1"
    assert run(counts) == [], "outside of any scope nothing is seen"
    for office in service:
        with reads_of(office.company):
            assert run(counts) == [(office.company, 1)]
    assert run(counts) == [], "the setting ends with its transaction"
    with transaction.atomic():
        with company(mine.company):
            assert run(counts) == [(mine.company, 1)]
            with company(other.company):
                assert run(counts) == [(other.company, 1)]
            assert run(counts) == [(mine.company, 1)]
        assert run(counts) == [], "the setting ends with its scope"


def test_a_scope_needs_a_transaction(service: Offices) -> None:
    with pytest.raises(CompanyMissing), company(service[0].company):
        raise AssertionError("never reached")


def test_nothing_is_written_for_another_company(service: Offices) -> None:
    mine, other = service
    with pytest.raises(DatabaseError, match="row-level security"), changes_of(mine.company):
        Project.objects.add(company=other.company, name="x", created_at=NOW)
    with changes_of(mine.company):
        assert RateBook.objects.of(other.company).update(note="x") == 0
        assert RateBook.objects.of(mine.company).update(note="x") == 1
        with pytest.raises(DatabaseError, match="row-level security"), transaction.atomic():
            RateBook.objects.of(mine.company).update(company=other.company)
    with pytest.raises(DatabaseError, match="row-level security"):
        Project.objects.add(company=mine.company, name="x", created_at=NOW)


def test_a_row_does_not_point_at_another_company_s(offices: Offices) -> None:
    mine, other = offices
    with pytest.raises(IntegrityError, match="of_company"), transaction.atomic():
        Edition.objects.of(mine.company).filter(state="draft").update(rate_book=other.rate_book)
        run("UPDATE estimating_project SET rate_book_id = rate_book_id")
        Project.objects.add(company=mine.company, name="x", rate_book_id=other.rate_book, created_at=NOW)
        run("SET CONSTRAINTS ALL IMMEDIATE")


def test_a_role_that_could_pass_by_is_refused(offices: Offices) -> None:
    with pytest.raises(ImproperlyConfigured, match="may pass by"):
        refuse_strong_role(connection)
    with transaction.atomic():
        run(f"SET LOCAL ROLE {settings.DUMP_ROLE}")
        with pytest.raises(ImproperlyConfigured, match="may pass by"):
            refuse_strong_role(connection)
    role = f"owner_{uuid.uuid4().hex[:8]}"
    with transaction.atomic():
        run(f"CREATE ROLE {role}")
        run(f"ALTER TABLE estimating_project OWNER TO {role}")
        run(f"SET LOCAL ROLE {role}")
        with pytest.raises(ImproperlyConfigured, match="owns the tables"):
            refuse_strong_role(connection)
        transaction.set_rollback(True)


def test_the_service_s_role_may_start_and_change_no_table(service: Offices) -> None:
    refuse_strong_role(connection)
    for statement in ("ALTER TABLE rates_edition DISABLE ROW LEVEL SECURITY", "TRUNCATE rates_edition",
                      "DELETE FROM django_migrations", "DROP TRIGGER edition_kept ON rates_edition"):  # fmt: skip
        with pytest.raises(DatabaseError, match="must be owner|permission denied"):
            run(statement)
