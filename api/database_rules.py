"""The rules that the database keeps by itself, in one table: put in place after every migrate, checked by a test.

Each refuses a change that no code of ours makes: of what was approved, costed, received or recorded.
"""

from __future__ import annotations

from dataclasses import dataclass

from django.db import transaction
from django.db.backends.base.base import BaseDatabaseWrapper

from api.definitions import Definition, put_in_place
from api.isolation import apply_isolation

MESSAGE = "this row is kept as it is"


@dataclass(frozen=True)
class Rule:
    """A trigger: an event on a table is refused where `condition` holds (of OLD and NEW)."""

    name: str
    table: str
    event: str  # UPDATE or DELETE
    condition: str


PRICED = "OLD.approved_at IS NOT NULL"
COSTED = "OLD.costed_at IS NOT NULL"
KEPT_OF_EDITION = (
    "rate_book_id", "company_id", "number", "effective_from", "currency", "document", "digest", "approved_at",
    "approved_by_id", "drafted_by_id",
)  # fmt: skip
KEPT_OF_ESTIMATE = (
    "company_id", "project_id", "number", "schedule_id", "edition_id", "editions", "work_date", "known_at", "currency",
    "request", "price_minor", "openings", "input_digest", "engine_version", "costed_at",
)  # fmt: skip
GIVEN_OF_ESTIMATE = (
    "company_id", "project_id", "number", "schedule_id", "edition_id", "editions", "work_date", "known_at", "request",
)  # fmt: skip
KEPT_OF_MATCH = ("company_id", "before_id", "after_id", "line_before", "line_after")

KEPT_OF_QUOTE = (
    "company_id", "project_id", "estimate_id", "replaces_id", "number", "customer", "customer_name", "valid_until",
    "terms", "texts", "addenda", "basis", "discount_percent", "price_minor", "currency", "prepared", "content",
    "approved_by_id", "approved_at", "issued_by_id", "issued_at",
)  # fmt: skip
KEPT_OF_CHANGE_ORDER = ("company_id", "project_id", "quote_id", "number", "currency", "made_by_id", "created_at")
ENDED_CHANGE_ORDER = "OLD.state IN ('agreed', 'withdrawn')"
KEPT_OF_LINK = ("company_id", "estimate_id", "title", "digest", "expires_at", "made_by_id", "created_at")
KEPT_OF_RECORD = (
    "company_id", "estimate_id", "day", "zone", "elevation", "storey", "step", "hundredths", "counts", "note",
    "link_id", "made_by_id", "created_at",
)  # fmt: skip
KEPT_OF_SIGN_OFF = ("company_id", "project_id", "estimate_id", "key", "field", "value", "signed_by_id", "signed_at")


def differs(*columns: str) -> str:
    """True where any of the columns changes, nulls told apart."""
    return " OR ".join(f"NEW.{column} IS DISTINCT FROM OLD.{column}" for column in columns)


RULES = (
    Rule("edition_kept", "rates_edition", "UPDATE", f"{PRICED} AND ({differs(*KEPT_OF_EDITION)})"),
    Rule(
        "edition_stays_approved",
        "rates_edition",
        "UPDATE",
        f"{PRICED} AND (NEW.state NOT IN ('approved', 'withdrawn')"
        " OR (OLD.withdrawn_at IS NOT NULL AND NEW.withdrawn_at IS DISTINCT FROM OLD.withdrawn_at))",
    ),
    Rule("edition_not_deleted", "rates_edition", "DELETE", "OLD.state <> 'draft'"),
    Rule("edition_step_kept", "rates_editionstep", "UPDATE", "1 = 1"),
    Rule("edition_step_not_deleted", "rates_editionstep", "DELETE", "1 = 1"),
    Rule(
        "estimate_kept",
        "estimating_estimate",
        "UPDATE",
        f"OLD.costed_at IS NOT NULL AND ({differs(*KEPT_OF_ESTIMATE)})",
    ),
    Rule("estimate_input_kept", "estimating_estimate", "UPDATE", differs(*GIVEN_OF_ESTIMATE)),
    Rule("estimate_not_deleted", "estimating_estimate", "DELETE", "1 = 1"),
    Rule("part_kept", "estimating_estimatepart", "UPDATE", "1 = 1"),
    Rule("part_not_deleted", "estimating_estimatepart", "DELETE", "1 = 1"),
    Rule("schedule_kept", "estimating_schedulerevision", "UPDATE", "1 = 1"),
    Rule("schedule_not_deleted", "estimating_schedulerevision", "DELETE", "1 = 1"),
    Rule("match_lines_kept", "estimating_linematch", "UPDATE", differs(*KEPT_OF_MATCH)),
    Rule("match_not_deleted", "estimating_linematch", "DELETE", "1 = 1"),
    Rule("comparison_kept", "estimating_comparison", "UPDATE", "OLD.compared_at IS NOT NULL"),
    Rule("comparison_not_deleted", "estimating_comparison", "DELETE", "1 = 1"),
    Rule("change_kept", "estimating_change", "UPDATE", "1 = 1"),
    Rule("change_not_deleted", "estimating_change", "DELETE", "1 = 1"),
    Rule("quote_kept", "estimating_quote", "UPDATE", f"OLD.issued_at IS NOT NULL AND ({differs(*KEPT_OF_QUOTE)})"),
    Rule("award_kept", "estimating_quote", "UPDATE", f"OLD.state = 'awarded' AND ({differs('accepted')})"),
    Rule("quote_stays_issued", "estimating_quote", "UPDATE", "OLD.state <> 'drafted' AND NEW.state = 'drafted'"),
    Rule("quote_not_deleted", "estimating_quote", "DELETE", "1 = 1"),
    Rule("quote_file_kept", "estimating_quotefile", "UPDATE", "1 = 1"),
    Rule("quote_file_not_deleted", "estimating_quotefile", "DELETE", "1 = 1"),
    Rule("sign_off_kept", "estimating_signoff", "UPDATE", differs(*KEPT_OF_SIGN_OFF)),
    Rule("sign_off_not_deleted", "estimating_signoff", "DELETE", "1 = 1"),
    Rule(
        "change_order_kept",
        "estimating_changeorder",
        "UPDATE",
        f"{ENDED_CHANGE_ORDER} OR {differs(*KEPT_OF_CHANGE_ORDER)}",
    ),
    Rule("change_order_not_deleted", "estimating_changeorder", "DELETE", "1 = 1"),
    Rule("change_order_step_kept", "estimating_changeorderstep", "UPDATE", "1 = 1"),
    Rule("change_order_step_not_deleted", "estimating_changeorderstep", "DELETE", "1 = 1"),
    Rule(
        "site_link_kept",
        "estimating_sitelink",
        "UPDATE",
        f"(OLD.revoked_at IS NOT NULL AND NEW.revoked_at IS DISTINCT FROM OLD.revoked_at) OR {differs(*KEPT_OF_LINK)}",
    ),
    Rule("site_link_not_deleted", "estimating_sitelink", "DELETE", "1 = 1"),
    Rule(
        "job_record_kept",
        "estimating_jobrecord",
        "UPDATE",
        f"OLD.withdrawn_at IS NOT NULL OR {differs(*KEPT_OF_RECORD)}",
    ),
    Rule("job_record_not_deleted", "estimating_jobrecord", "DELETE", "1 = 1"),
    Rule("audit_kept", "rates_auditentry", "UPDATE", "1 = 1"),
    Rule("audit_not_deleted", "rates_auditentry", "DELETE", "1 = 1"),
    Rule(
        "run_end_kept",
        "estimating_run",
        "UPDATE",
        "OLD.state IN ('costed', 'refused', 'failed', 'cancelled') AND NEW.state <> OLD.state",
    ),
)


def write_trigger(rule: Rule, vendor: str) -> str:
    """The statement that makes a rule."""
    start = f"CREATE TRIGGER {rule.name} BEFORE {rule.event} ON {rule.table} FOR EACH ROW WHEN"
    if vendor == "sqlite":
        condition = rule.condition.replace("IS DISTINCT FROM", "IS NOT")
        return f"{start} {condition} BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END"
    return f"{start} ({rule.condition}) EXECUTE FUNCTION keep_row()"


KEEP_ROW = f" BEGIN RAISE EXCEPTION '{MESSAGE}' USING ERRCODE = 'integrity_constraint_violation'; END "


def apply_rules(connection: BaseDatabaseWrapper) -> None:
    """Puts every rule whose table is there in place, and on PostgreSQL the second layer between companies.

    Only what differs is changed, in one transaction: a service that runs meanwhile sees no moment without a rule.
    """
    apply_isolation(connection)
    tables = set(connection.introspection.table_names())
    wanted = {rule: write_trigger(rule, connection.vendor) for rule in RULES if rule.table in tables}
    with transaction.atomic(), connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute("SELECT 1 FROM pg_proc WHERE proname = 'keep_row' AND prosrc = %s", [KEEP_ROW])
            if cursor.fetchone() is None:
                head = "CREATE OR REPLACE FUNCTION keep_row() RETURNS trigger LANGUAGE plpgsql AS"
                cursor.execute(f"{head} $${KEEP_ROW}$$")
            put_in_place(cursor, [Definition("TRIGGER", rule.name, rule.table, sql) for rule, sql in wanted.items()])
            return
        cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
        standing = dict(cursor.fetchall())
        for rule, statement in wanted.items():
            if standing.get(rule.name) != statement:
                cursor.execute(f"DROP TRIGGER IF EXISTS {rule.name}")
                cursor.execute(statement)


def rules_in_place(connection: BaseDatabaseWrapper) -> set[str]:
    """The names of the rules that the database has now."""
    query = "SELECT name FROM sqlite_master WHERE type = 'trigger'"
    if connection.vendor == "postgresql":
        query = "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal"
    with connection.cursor() as cursor:
        cursor.execute(query)
        return {name for (name,) in cursor.fetchall()}
