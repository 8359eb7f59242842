"""What stands between a drafted quote and its issue, each with a sentence and who can take it away.

What a role may offer is decided here, from the company's settings: no sentence tells of cost or margin.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from zoneinfo import ZoneInfo

import orjson

from estimating import snapshots
from estimating.models import Estimate, Quote, QuoteState
from estimating.outputs.printed.letters_shown import not_shown
from estimating.outputs.quotes.invented import invented_in
from estimating.outputs.quotes.prepared import Offer, Prepared
from estimating.queries.sign_offs import unsigned
from estimating.quoting import rates_stand
from rates.cards import stored_sources
from rates.core.exact import read_decimal
from rates.core.texts import counted
from rates.models import Company
from rates.roles import Role

FROM_RATES_BEFORE = ("held", "blend")
BLOCKS = "blocks_issue"
BEYOND = "this price is beyond what your role may offer; the principal may approve it"


@dataclass(frozen=True)
class Block:
    """Why a quote is not issued, and who can change that."""

    code: str
    sentence: str
    who: str


@dataclass(frozen=True)
class Standing:
    """A drafted quote with what decides about its issue, for somebody of a role, at a time."""

    row: Quote
    estimate: Estimate
    prepared: Prepared
    company: Company
    role: str
    now: datetime.datetime

    @cached_property
    def today(self) -> datetime.date:
        """The day in the company's time zone."""
        return self.now.astimezone(ZoneInfo(self.company.time_zone)).date()

    @property
    def offer(self) -> Offer:
        """The price that the quote stands on."""
        found = self.prepared.offer(self.row.basis)
        assert found is not None
        return found

    @property
    def approved(self) -> bool:
        """Whether the principal has approved it as it is: a change takes the approval away."""
        return self.row.approved_at is not None

    @property
    def within_validity(self) -> bool:
        """Whether the quote that this one replaces still binds."""
        before = self.row.replaces
        return before is not None and before.state == QuoteState.ISSUED and before.valid_until >= self.today


def blocks(standing: Standing) -> tuple[Block, ...]:
    """Everything that keeps the quote from being issued."""
    return tuple(found for check in CHECKS for found in check(standing))


def open_questions(s: Standing) -> Iterator[Block]:
    """Questions on the schedule that are to be answered first."""
    schedule = s.estimate.schedule
    count = schedule.blocks_issue + schedule.blocks_costing if schedule is not None else 0
    if count:
        sentence = f"{counted(count, 'question')} on the schedule must be answered, and the answered one estimated"
        yield Block("questions_open", sentence, Role.ESTIMATOR)


def open_assumptions(s: Standing) -> Iterator[Block]:
    """Assumptions that nobody stands behind."""
    waiting = unsigned(company=s.company.pk, row=s.estimate, items=s.prepared.assumptions)
    if waiting:
        yield Block("assumptions_open", f"{counted(len(waiting), 'assumption')} must be signed off", Role.ESTIMATOR)


def failed_checks(s: Standing) -> Iterator[Block]:
    """Checks of the estimate that block the issue."""
    body = snapshots.read_summary(company=s.company.pk, estimate=s.estimate.pk)
    for check in (orjson.loads(body).get("checks") or ()) if body is not None else ():
        if check.get("severity") == BLOCKS:
            yield Block(check["code"], check["sentence"], Role.ESTIMATOR)


def of_requote(s: Standing) -> Iterator[Block]:
    """What the comparison with the quote before leaves open."""
    for block in s.prepared.blocks:
        yield Block(**block)


def invented_rates(s: Standing) -> Iterator[Block]:
    """Rates that are known to be invented; the demo company's letters say so themselves."""
    if s.company.invented:
        return
    sources = stored_sources(company=s.company.pk, kept=s.offer.editions)
    tables = {table for source in sources for layer in source.chain() for table in invented_in(layer.document)}
    if tables:
        sentence = f"rates of {', '.join(sorted(tables))} are invented; the edition's own must take their place"
        yield Block("invented_rates", sentence, "rate keeper")


def last_day(s: Standing) -> Iterator[Block]:
    """A validity that has passed."""
    if s.row.valid_until < s.today:
        yield Block("validity_passed", f"it would be valid until {s.row.valid_until}, which has passed", Role.SALES)


def replaced(s: Standing) -> Iterator[Block]:
    """A quote that it replaces and that is no longer open."""
    before = s.row.replaces
    if before is not None and before.state not in (QuoteState.ISSUED, QuoteState.NOT_AWARDED):
        yield Block(
            "replaces_closed", f"quote {before.number}, which it replaces, is {words(before.state)}", Role.SALES
        )


def old_rates(s: Standing) -> Iterator[Block]:
    """Rates that are no longer in force, outside of the validity of the quote that was made by them."""
    if s.approved:
        return
    if s.row.basis in FROM_RATES_BEFORE:
        assert s.row.replaces is not None
        if not s.within_validity or s.row.valid_until > s.row.replaces.valid_until:
            yield Block("held_too_long", "rates are held only as long as the quote that it replaces is", Role.PRINCIPAL)
    elif not rates_stand(company=s.company.pk, row=s.estimate, now=s.now):
        sentence = "rates have changed since it was estimated: estimate again, or have the principal approve it"
        yield Block("rates_changed", sentence, Role.ESTIMATOR)


def beyond_role(s: Standing) -> Iterator[Block]:
    """A discount or a margin beyond what the role may offer."""
    if not s.approved and not may_offer(s):
        yield Block("needs_approval", BEYOND, Role.PRINCIPAL)


def may_offer(s: Standing) -> bool:
    """Whether the role's limit of discount and the company's floor of margin allow the price."""
    percent = read_decimal(s.row.discount_percent)
    limit = limit_of(s.company, s.role)
    if limit is not None and percent > read_decimal(limit):
        return False
    floor = s.company.margin_floor
    return not floor or s.prepared.costs.reaches(s.row.price_minor, read_decimal(floor))


def limit_of(company: Company, role: str) -> str | None:
    """The most percent that a role may give away; None where only the floor limits it."""
    limits = {Role.SALES: company.discount_limit or "0", Role.PRINCIPAL: None}
    return limits.get(Role(role), company.estimator_discount_limit or None)


def words(state: str) -> str:
    """A state as a sentence has it."""
    return state.replace("_", " ")


def unknown_letters(s: Standing) -> Iterator[Block]:
    """Texts in a script that no font of the letter has."""
    row = s.row
    said = [str(text) for text in row.customer.values()] + [e["text"] for name in row.texts for e in row.texts[name]]
    said += [row.terms, s.company.name, row.project.name if row.project else ""]
    said += [f"{line.mark} {line.storey} {line.elevation}" for line in s.prepared.lines]
    said += [f"{a['name']} {' '.join(a['marks'])}" for a in row.addenda]
    missing = not_shown(said)
    if missing:
        yield Block("letters_not_shown", f"no font here has {' '.join(missing)}; write it in other letters", Role.SALES)


CHECKS = (
    unknown_letters,
    open_questions,
    open_assumptions,
    failed_checks,
    of_requote,
    invented_rates,
    last_day,
    replaced,
    old_rates,
    beyond_role,
)


def standing_of(
    *, company: uuid.UUID, row: Quote, prepared: Prepared, role: str, now: datetime.datetime
) -> Standing:  # fmt: skip
    """The quote's standing; `row` with its estimate, that one's schedule, and the quote that it replaces."""
    return Standing(row, row.estimate, prepared, Company.objects.get(pk=company), role, now)
