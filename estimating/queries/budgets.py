"""What an awarded quote is to cost, by cost code: for the systems that follow the job's spending."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from estimating.awards import accepted_names, with_alternates
from estimating.models import Quote, QuoteState
from estimating.outputs.answer import cost_codes as cost_codes_of
from estimating.outputs.documents.parts import BudgetLine, CostCodeLine
from estimating.queries.estimates import part
from rates.core.money import print_money, read_money
from rates.refusals import Conflict, NotThere

KINDS = ("labour", "materials", "equipment", "other")
DIFFERENCE = "price as quoted, less the estimate's"  # a discount, held rates or a blend


@dataclass(frozen=True)
class Budget:
    """The rows of an awarded quote; the tag moves with the quote."""

    rows: Sequence[Any]
    tag: str


def awarded(company: uuid.UUID, id: uuid.UUID) -> Quote:
    """The quote; NotThere, Conflict unless it is awarded."""
    row = (
        Quote.objects.of(company)
        .select_related("project", "estimate")
        .defer("content", "prepared")
        .filter(pk=id)
        .first()
    )
    if row is None:
        raise NotThere
    if row.state != QuoteState.AWARDED:
        raise Conflict("not_awarded", f"this quote is {row.state}; its costs are told once it is awarded")
    return row


def estimated_codes(row: Quote) -> list[CostCodeLine]:
    """The estimate's price by cost code, with the alternates that were taken."""
    names = accepted_names(row)
    if not names:
        return list(part(company=row.company_id, id=row.estimate_id, name="cost-codes"))
    estimate, variant = with_alternates(row, names)
    assert variant.up is not None  # it was priced at the award
    found: Any = cost_codes_of(replace(estimate, up=variant.up))
    return list(found)


def code_rows(row: Quote) -> list[CostCodeLine]:
    """The estimate's price by cost code, and what the quote differs from it: all sum to what was awarded."""
    codes = estimated_codes(row)
    sums = [read_money(line["amount"], row.currency) for line in codes]
    left = row.awarded_minor - sum(sums)
    if not left:
        return codes
    nothing, amount = print_money(0, row.currency), print_money(left, row.currency)
    return [
        *codes,
        CostCodeLine(
            code=None,
            title=DIFFERENCE,
            labour=nothing,
            materials=nothing,
            equipment=nothing,
            other=amount,
            amount=amount,
        ),
    ]


def cost_codes(*, company: uuid.UUID, id: uuid.UUID) -> Budget:
    """The price of an awarded quote by cost code; NotThere, Conflict."""
    row = awarded(company, id)
    return Budget(code_rows(row), f"{row.pk.hex}-{row.version}-codes")


def budget(*, company: uuid.UUID, id: uuid.UUID) -> Budget:
    """The same a row for each cost code and kind of cost, nothing that is 0; NotThere, Conflict."""
    row = awarded(company, id)
    assert row.number is not None  # it was issued
    project = row.project
    rows = [
        BudgetLine(
            project=project.name if project else None,
            project_number=(project.number or None) if project else None,
            quote=row.number,
            cost_code=line["code"],
            title=line["title"],
            kind=kind,
            amount=line[kind],  # type: ignore[literal-required]
            currency=row.currency,
        )
        for line in code_rows(row)
        for kind in KINDS
        if read_money(line[kind], row.currency)  # type: ignore[literal-required]
    ]
    return Budget(rows, f"{row.pk.hex}-{row.version}-budget")
