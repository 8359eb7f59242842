"""Tables of the work on site: what a crew did by day, zone and step, and the links by which it tells so."""

from __future__ import annotations

from typing import Any

from django.db import models

from estimating.models.records import Estimate
from rates.tenancy import CompanyOwned, Identified


class SiteLink(Identified, CompanyOwned):
    """A way for a crew to the zones of one estimate, without a sign-in and without costs; its secret is kept hashed."""

    estimate = models.ForeignKey(Estimate, on_delete=models.PROTECT, related_name="+")
    title = models.CharField(max_length=200)  # for whom
    digest = models.CharField(max_length=64)
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True)
    made_by = models.ForeignKey("rates.Member", on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()

    class Meta:
        indexes = [models.Index(fields=["company", "estimate"], name="link_of_estimate")]


class JobRecord(Identified, CompanyOwned):
    """A day's work of one step in a zone of an estimate; it never changes, and may be withdrawn with a reason."""

    estimate = models.ForeignKey(Estimate, on_delete=models.PROTECT, related_name="+")
    day = models.DateField()
    zone = models.PositiveIntegerField()  # in working order, from 1
    elevation = models.CharField(max_length=200)
    storey = models.CharField(max_length=200)
    step = models.CharField(max_length=20)
    hundredths = models.PositiveIntegerField()  # of a paid worker-hour
    counts: Any = models.JSONField(default=list)  # [mark, openings]
    note = models.CharField(max_length=1000, default="")
    link = models.ForeignKey(SiteLink, null=True, on_delete=models.PROTECT, related_name="+")  # by which it came
    made_by = models.ForeignKey("rates.Member", on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True)
    withdrawn_by = models.ForeignKey("rates.Member", null=True, on_delete=models.PROTECT, related_name="+")
    withdrawn_reason = models.CharField(max_length=1000, default="")

    class Meta:
        indexes = [models.Index(fields=["company", "estimate", "day"], name="job_record_by_day")]
