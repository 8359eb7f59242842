"""Operations on quotes, their texts and documents, and on sign-offs of assumptions."""

from __future__ import annotations

from api.quote_fields import APPROVAL, AWARD, CHANGE_QUOTE, CLOSE, NEW_QUOTE, REQUOTE
from api.rest import projects, quote_texts, quotes
from api.rest.common_fields import PAGE, id_text, ordering
from api.rest.exchange import Operation
from estimating.queries.quotes import STATES
from rates.core.fields import Field, choice

LISTS = ("json", "csv", "xlsx")
ENDS = (
    ("approve", quotes.approve, "Approve a draft as it stands, or take that back", APPROVAL),
    ("issue", quotes.issue, "Issue a quote: numbered and frozen, with its letter", None),
    ("award", quotes.award, "The customer has taken it", AWARD),
    ("close", quotes.close, "The customer has not taken it: why, and the competing price", CLOSE),
)
DOCUMENTS = {
    "letter": "The letter of a quote; of a draft one that says so",
    "changes": "The letter of changes against the quote that it replaces",
}

OPERATIONS = (
    Operation(
        "GET",
        "/v1/quotes",
        "quotes",
        quotes.quotes,
        "Quotes",
        "read",
        {200: "QuoteLine[]"},
        query=(
            *PAGE,
            ordering("created_at", "valid_until", "customer"),
            Field("state", choice(*STATES), "only quotes in this state"),
            Field("project", id_text, "only quotes of this project"),
        ),
        formats=LISTS,
    ),
    Operation(
        "POST",
        "/v1/quotes",
        "make-quote",
        quotes.make,
        "Draft a quote of a costed estimate",
        "quotes",
        {201: "Quote"},
        body=NEW_QUOTE,
        idempotency="required",
        atomic=False,
    ),
    Operation("GET", "/v1/quotes/{id}", "quote", quotes.show, "One quote", "read", {200: "Quote"}),
    Operation(
        "PATCH",
        "/v1/quotes/{id}",
        "change-quote",
        quotes.change,
        "Change what a draft says, or which of its offers it stands on",
        "quotes",
        {200: "Quote"},
        body=CHANGE_QUOTE,
        if_match=True,
    ),
    *(
        Operation(
            "POST",
            f"/v1/quotes/{{id}}/{name}",
            f"{name}-quote",
            view,
            summary,
            "quotes.approve" if name == "approve" else "quotes",
            {200: "Quote"},
            body=body,
            if_match=True,
            idempotency="accepted",
            atomic=name not in ("issue", "award"),
        )
        for name, view, summary, body in ENDS
    ),
    Operation(
        "POST",
        "/v1/quotes/{id}/requote",
        "requote",
        quotes.requote,
        "Quote anew on another drawing: held rates, today's and their blend beside each other, as a new draft",
        "quotes",
        {201: "Quote"},
        body=REQUOTE,
        idempotency="accepted",
        atomic=False,
    ),
    *(
        Operation(
            "GET",
            f"/v1/quotes/{{id}}/{name}.{format}",
            f"quote-{name}-{format}",
            quotes.document,
            summary,
            "read",
            {200: "File"},
            formats=(format,),
        )
        for name, summary in DOCUMENTS.items()
        for format in ("pdf", "html")
    ),
    Operation(
        "GET",
        "/v1/quotes/{id}/ubl.xml",
        "quote-ubl",
        quotes.document,
        "An issued quote for the customer's systems, as a Quotation of OASIS UBL 2.4",
        "read",
        {200: "File"},
        formats=("xml",),
    ),
    Operation(
        "GET",
        "/v1/quotes/{id}/cost-codes",
        "quote-cost-codes",
        quotes.cost_codes,
        "The price of an awarded quote by cost code",
        "costs",
        {200: "CostCodeLine[]"},
        formats=LISTS,
    ),
    Operation(
        "GET",
        "/v1/quotes/{id}/budget",
        "quote-budget",
        quotes.budget,
        "An awarded quote as a budget to import: a row for each cost code and kind of cost",
        "costs",
        {200: "BudgetLine[]"},
        formats=LISTS,
    ),
    Operation(
        "GET",
        "/v1/bids-due",
        "bids-due",
        projects.due,
        "Projects by the time that their bids are due, and what each waits for",
        "read",
        {200: "DueBid[]"},
        query=(*PAGE, ordering("due_at")),
        formats=LISTS,
    ),
    *(
        Operation(
            "GET",
            f"/v1/estimates/{{id}}/summary.{format}",
            f"bid-summary-{format}",
            quotes.summary,
            "The bid summary of a costed estimate, with its costs",
            "costs",
            {200: "File"},
            formats=(format,),
        )
        for format in ("pdf", "html")
    ),
    Operation(
        "GET",
        "/v1/quote-texts",
        "quote-texts",
        quote_texts.show,
        "The texts that the company keeps for its quotes",
        "read",
        {200: "QuoteTexts"},
    ),
    Operation(
        "PUT",
        "/v1/quote-texts",
        "put-quote-texts",
        quote_texts.put,
        "Write the texts that the company keeps for its quotes",
        "quotes.approve",
        {200: "QuoteTexts"},
        body=quote_texts.BODY,
        if_match=True,
    ),
    Operation(
        "GET",
        "/v1/estimates/{id}/sign-offs",
        "sign-offs",
        quote_texts.sign_offs,
        "Every assumption of an estimate, and who stands behind it",
        "read",
        {200: "SignOffs"},
    ),
    Operation(
        "POST",
        "/v1/estimates/{id}/sign-offs",
        "sign-assumptions",
        quote_texts.sign,
        "Sign off assumptions of an estimate, or take that back",
        "answers",
        {200: "SignOffs"},
        body=quote_texts.SIGN,
        idempotency="accepted",
        atomic=False,
    ),
)
