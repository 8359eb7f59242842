"""Operations on the company, access keys, rate books and editions."""

from __future__ import annotations

from api.rest import books, company, rate_tables
from api.rest.common_fields import PAGE, id_text, moment, ordering
from api.rest.exchange import Operation
from api.rest.reading import MEDIA
from rates.core.card import TABLES
from rates.core.fields import Field, choice, date

LISTS = ("json", "csv", "xlsx")
STATES = ("draft", "submitted", "approved", "withdrawn")
JSON = ("application/json",)
XLSX = MEDIA["xlsx"]

COMPANY = (
    Operation("GET", "/v1/company", "company", company.show, "The company", "read", {200: "Company"}),
    Operation(
        "PATCH",
        "/v1/company",
        "change-company",
        company.change,
        "Change the company",
        "company",
        {200: "Company"},
        body=company.CHANGE,
        clears={"discount_limit": "", "margin_floor": "", "rate_move_limit": "10", "cost_codes": {}},
        if_match=True,
    ),
    Operation(
        "GET",
        "/v1/access-keys",
        "access-keys",
        company.keys,
        "Access keys, never their secrets",
        "company",
        {200: "AccessKey[]"},
        query=(*PAGE, ordering("created_at", "title")),
        formats=LISTS,
    ),
    Operation(
        "POST",
        "/v1/access-keys",
        "make-access-key",
        company.make_key,
        "A new access key; its secret is shown this once",
        "company",
        {201: "NewAccessKey"},
        body=company.NEW_KEY,
        idempotency="accepted",
    ),
    Operation(
        "GET", "/v1/access-keys/{id}", "access-key", company.show_key, "One access key", "company", {200: "AccessKey"}
    ),
    Operation(
        "DELETE",
        "/v1/access-keys/{id}",
        "revoke-access-key",
        company.revoke_key,
        "Revoke an access key, from the next request on",
        "company",
        {204: ""},
        if_match=True,
    ),
)

BOOKS = (
    Operation(
        "GET",
        "/v1/rate-books",
        "rate-books",
        books.books,
        "Rate books",
        "read",
        {200: "RateBook[]"},
        query=(*PAGE, ordering("created_at", "name")),
        formats=LISTS,
    ),
    Operation(
        "POST",
        "/v1/rate-books",
        "make-rate-book",
        books.make_book,
        "A new rate book",
        "rates.draft",
        {201: "RateBook"},
        body=books.NEW_BOOK,
        idempotency="accepted",
    ),
    Operation("GET", "/v1/rate-books/{id}", "rate-book", books.show_book, "One rate book", "read", {200: "RateBook"}),
    Operation(
        "PATCH",
        "/v1/rate-books/{id}",
        "change-rate-book",
        books.change_book,
        "Change a rate book's name, note or band",
        "rates.draft",
        {200: "RateBook"},
        body=books.CHANGE_BOOK,
        clears={"note": "", "band": None},
        if_match=True,
    ),
    Operation(
        "GET",
        "/v1/rate-books/{id}/editions",
        "editions",
        books.editions,
        "The editions of a rate book",
        "read",
        {200: "Edition[]"},
        query=(
            *PAGE,
            ordering("number", "effective_from", "created_at"),
            Field("state", choice(*STATES), "only editions in this state"),
        ),
        formats=LISTS,
    ),
    Operation(
        "POST",
        "/v1/rate-books/{id}/editions",
        "draft-edition",
        books.draft,
        "A new draft: `tables` whole, or a copy of the edition named in `from`",
        "rates.draft",
        {201: "WholeEdition"},
        media=JSON,
        schema="NewEdition",
        idempotency="accepted",
        largest=8 * 2**20,
    ),
    Operation(
        "GET",
        "/v1/rate-books/{id}/in-force",
        "in-force",
        books.in_force,
        "The edition in force on a work date, as known at a time",
        "read",
        {200: "Edition"},
        query=(
            Field("work_date", date(), "day of the work", required=True),
            Field("known_at", moment, "as known at this time; now if absent"),
        ),
    ),
)


def edition_step(
    name: str, view: object, summary: str, scope: str, body: object = None, shown: str = "WholeEdition"
) -> Operation:
    """An operation that moves an edition from one state to another."""
    return Operation(
        "POST",
        f"/v1/editions/{{id}}/{name}",
        f"{name}-edition",
        view,  # type: ignore[arg-type]
        summary,
        scope,
        {200: shown},
        body=body,  # type: ignore[arg-type]
        if_match=True,
        idempotency="accepted",
    )


EDITIONS = (
    Operation(
        "GET",
        "/v1/editions/{id}",
        "edition",
        books.show,
        "One edition, tables and all",
        "rates.read",
        {200: "WholeEdition"},
    ),
    Operation(
        "DELETE",
        "/v1/editions/{id}",
        "delete-draft",
        books.delete,
        "Delete a draft",
        "rates.draft",
        {204: ""},
        if_match=True,
    ),
    *(
        operation
        for table in TABLES
        for operation in (
            Operation(
                "GET",
                f"/v1/editions/{{id}}/{table}",
                f"{table}-table",
                rate_tables.show_table,
                f"The {table} table of an edition",
                "rates.read",
                {200: f"Table:{table}"},
                formats=LISTS,
            ),
            Operation(
                "PUT",
                f"/v1/editions/{{id}}/{table}",
                f"put-{table}-table",
                rate_tables.put_table,
                f"Replace the {table} table of a draft; a CSV or workbook is answered by what was read of it",
                "rates.draft",
                {200: f"Table:{table}|TablesRead"},
                media=(*JSON, "text/csv", XLSX),
                schema=f"Table:{table}",
                if_match=True,
                largest=8 * 2**20,
            ),
        )
    ),
    Operation(
        "GET",
        "/v1/editions/{id}/tables",
        "edition-tables",
        rate_tables.show_tables,
        "All tables of an edition, in a workbook one sheet each",
        "rates.read",
        {200: "Tables"},
        formats=("json", "xlsx"),
    ),
    Operation(
        "PUT",
        "/v1/editions/{id}/tables",
        "put-edition-tables",
        rate_tables.put_tables,
        "Replace tables of a draft, all that are sent or none; a workbook is answered by what was read of it",
        "rates.draft",
        {200: "Tables|TablesRead"},
        media=(*JSON, XLSX),
        schema="Tables",
        if_match=True,
        largest=8 * 2**20,
    ),
    Operation(
        "GET",
        "/v1/editions/{id}/changes",
        "edition-changes",
        books.changes,
        "The table rows that differ from another edition",
        "rates.read",
        {200: "RowChange[]"},
        query=(Field("from", id_text, "the edition to compare with", required=True),),
    ),
    Operation(
        "GET",
        "/v1/editions/{id}/steps",
        "edition-steps",
        books.steps,
        "What was done to an edition: who, when, why",
        "rates.read",
        {200: "Step[]"},
        query=(*PAGE, ordering("at")),
        formats=LISTS,
    ),
    Operation(
        "GET",
        "/v1/editions/{id}/impact",
        "edition-impact",
        books.show_impact,
        "Open estimates under an edition as if approved, old price against new; what moves against the edition before",
        "rates.read",
        {200: "Impacts"},
        query=(*PAGE, ordering("created_at", "work_date")),
        formats=LISTS,
    ),
    Operation(
        "POST",
        "/v1/editions/{id}/change-prices",
        "change-prices",
        rate_tables.change_prices,
        "Change prices of a draft by formula over chosen rows, as one step; or only preview it",
        "rates.draft",
        {200: "Repriced"},
        body=rate_tables.CHANGE_PRICES,
        if_match=True,
        idempotency="accepted",
        atomic=False,
    ),
    edition_step("submit", books.submit, "Hand a draft over for approval", "rates.draft", shown="SubmittedEdition"),
    edition_step("approve", books.approve, "Approve the edition that was reviewed", "rates.approve", books.APPROVAL),
    edition_step("send-back", books.send_back, "Send a submitted edition back", "rates.approve", books.REASON),
    edition_step("withdraw", books.withdraw, "Withdraw an approved edition", "rates.approve", books.REASON),
)
OPERATIONS = (*COMPANY, *BOOKS, *EDITIONS)
