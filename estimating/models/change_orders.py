"""Tables of change orders: what was asked for beside a contract, and every step that was taken with it."""

from __future__ import annotations

from typing import Any

from django.db import models

from estimating.models.quotes import Quote
from estimating.models.records import Comparison, Project
from estimating.states import ChangeOrderState
from rates.tenancy import CompanyOwned, Identified


class ChangeOrder(Identified, CompanyOwned):
    """A change to a contract, numbered in its project; once agreed or withdrawn, nothing of it changes."""

    project = models.ForeignKey(Project, on_delete=models.PROTECT, related_name="+")
    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="+")  # the contract
    number = models.PositiveIntegerField()
    state = models.CharField(max_length=9, choices=ChangeOrderState.choices, default=ChangeOrderState.PROPOSED.value)
    title = models.CharField(max_length=200)
    description = models.CharField(max_length=4000, default="")
    directive: Any = models.JSONField(null=True)  # by, reference, on
    known_on = models.DateField(null=True)  # when the change became known: notice is counted from here
    notice_days = models.PositiveIntegerField(null=True)
    notice_counted = models.CharField(max_length=8, default="")  # calendar, working
    notice_holidays: Any = models.JSONField(default=list)
    notice_due = models.DateField(null=True)
    notice_given_on = models.DateField(null=True)
    notice_reference = models.CharField(max_length=200, default="")
    work_date = models.DateField(null=True)
    basis = models.CharField(max_length=20, default="")  # comparison, unit_prices, time_and_material; "": no price yet
    comparison = models.ForeignKey(Comparison, null=True, on_delete=models.PROTECT, related_name="+")
    asked: Any = models.JSONField(null=True)  # what it is priced from, as it was written
    pricing = models.BinaryField(null=True)  # compressed JSON: lines, build-up, the edition that it stands on
    price_minor = models.BigIntegerField(null=True)  # what the customer pays for it
    currency = models.CharField(max_length=3)
    made_by = models.ForeignKey("rates.Member", on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()
    version = models.PositiveIntegerField(default=1)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["company", "project", "number"], name="change_order_number_once")
        ]
        indexes = [
            models.Index(fields=["company", "quote", "state"], name="change_order_of_quote"),
            models.Index(fields=["company", "notice_due"], name="change_order_by_notice"),
        ]


class ChangeOrderStep(Identified, CompanyOwned):
    """What was done with a change order: when, by whom, why, and its price then."""

    change_order = models.ForeignKey(ChangeOrder, on_delete=models.PROTECT, related_name="+")
    step = models.CharField(max_length=9)  # a state that it came to, or revised
    at = models.DateTimeField()
    by = models.ForeignKey("rates.Member", on_delete=models.PROTECT, related_name="+")
    said = models.CharField(max_length=2000, default="")
    price_minor = models.BigIntegerField(null=True)

    class Meta:
        indexes = [models.Index(fields=["company", "change_order", "at"], name="step_of_change_order")]
