"""Tables of quotes: what customers were offered, the bytes that they were sent, and what people signed off before."""

from __future__ import annotations

from typing import Any

from django.db import models

from estimating.models.records import Estimate, Project
from rates.tenancy import CompanyOwned, Identified


class QuoteState(models.TextChoices):
    """States of a quote."""

    DRAFTED = "drafted"
    ISSUED = "issued"
    SUPERSEDED = "superseded"
    AWARDED = "awarded"
    NOT_AWARDED = "not_awarded"
    EXPIRED = "expired"  # never stored: an issued quote after its last day, in the company's time zone


CLOSED = (QuoteState.AWARDED, QuoteState.NOT_AWARDED)  # of a quote whose bid has ended


class Quote(Identified, CompanyOwned):
    """What a customer is offered; once issued, nothing of the offer changes."""

    project = models.ForeignKey(Project, null=True, on_delete=models.PROTECT, related_name="+")
    estimate = models.ForeignKey(Estimate, on_delete=models.PROTECT, related_name="+")
    replaces = models.ForeignKey("self", null=True, on_delete=models.PROTECT, related_name="+")
    number = models.PositiveIntegerField(null=True)  # of the company, given at issue
    state = models.CharField(max_length=12, choices=QuoteState.choices, default=QuoteState.DRAFTED)
    customer: Any = models.JSONField()  # name, contact, address, email, reference
    customer_name = models.CharField(max_length=200)
    valid_until = models.DateField()
    terms = models.CharField(max_length=4000, default="")
    note = models.CharField(max_length=2000, default="")  # for the office alone
    texts: Any = models.JSONField()  # inclusions, exclusions, clarifications: lists of {code, text}
    addenda: Any = models.JSONField(default=list)  # name, acknowledged_on, schedule, marks
    basis = models.CharField(max_length=8, default="estimate")  # estimate, held, today, blend
    basis_reason = models.CharField(max_length=2000, default="")
    discount_percent = models.CharField(max_length=20, default="0")
    price_minor = models.BigIntegerField()  # what the customer pays
    currency = models.CharField(max_length=3)
    prepared = models.BinaryField()  # compressed JSON: offers, their lines, assumptions, facts that pick the texts
    approved_by = models.ForeignKey("rates.Member", null=True, on_delete=models.PROTECT, related_name="+")
    approved_at = models.DateTimeField(null=True)
    approval_reason = models.CharField(max_length=2000, default="")
    made_by = models.ForeignKey("rates.Member", on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()
    version = models.PositiveIntegerField(default=1)
    issued_by = models.ForeignKey("rates.Member", null=True, on_delete=models.PROTECT, related_name="+")
    issued_at = models.DateTimeField(null=True)
    content = models.BinaryField(null=True)  # compressed JSON of all that was offered and what it stands on
    closed_by = models.ForeignKey("rates.Member", null=True, on_delete=models.PROTECT, related_name="+")
    closed_at = models.DateTimeField(null=True)
    close_reason = models.CharField(max_length=2000, default="")
    competing_minor = models.BigIntegerField(null=True)
    accepted: Any = models.JSONField(null=True)  # alternates taken with the award: names, adds_minor

    @property
    def awarded_minor(self) -> int:
        """What the customer pays for what was awarded: the price quoted and what the alternates taken with it add."""
        return int(self.price_minor + (self.accepted["adds_minor"] if self.accepted else 0))

    @property
    def stands_minor(self) -> int:
        """What the quote comes to as it stands: what was awarded, else the price quoted."""
        return self.awarded_minor if self.state == QuoteState.AWARDED else self.price_minor

    class Meta:
        constraints = [models.UniqueConstraint(fields=["company", "number"], name="quote_number_once")]
        indexes = [
            models.Index(fields=["company", "project", "id"], name="quote_of_project"),
            models.Index(fields=["company", "state", "valid_until"], name="quote_by_state"),
        ]


class QuoteFile(Identified, CompanyOwned):
    """A document of an issued quote, byte for byte as it went to the customer."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="+")
    name = models.CharField(max_length=40)  # letter.pdf, letter.html, changes.pdf, changes.html
    file_name = models.CharField(max_length=120)
    media_type = models.CharField(max_length=60)
    digest = models.CharField(max_length=64)
    content = models.BinaryField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["company", "quote", "name"], name="quote_file_once")]


class QuoteTexts(Identified, CompanyOwned):
    """The texts that a company keeps for its quotes: one row, made when it is first written."""

    document: Any = models.JSONField()
    version = models.PositiveIntegerField(default=1)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["company"], name="quote_texts_once")]


class SignOff(Identified, CompanyOwned):
    """An assumption that a person stands behind, by project: it holds in the next revision while it is the same."""

    project = models.ForeignKey(Project, null=True, on_delete=models.PROTECT, related_name="+")
    estimate = models.ForeignKey(Estimate, on_delete=models.PROTECT, related_name="+")  # of which it was signed
    key = models.CharField(max_length=32)  # of field, value, source and the marks that it touches
    field = models.CharField(max_length=80)
    value = models.CharField(max_length=400)
    signed_by = models.ForeignKey("rates.Member", on_delete=models.PROTECT, related_name="+")
    signed_at = models.DateTimeField()
    taken_back_by = models.ForeignKey("rates.Member", null=True, on_delete=models.PROTECT, related_name="+")
    taken_back_at = models.DateTimeField(null=True)

    class Meta:
        indexes = [models.Index(fields=["company", "project", "key"], name="sign_off_of_project")]
