"""Tables of companies, their people and keys, and rates. Reads go through queries, writes through actions."""

from __future__ import annotations

from typing import Any

from django.db import models
from django.db.models import Q

from rates.roles import Role
from rates.tenancy import CompanyOwned, Identified


class Company(Identified):
    """A tenant: one contractor with its own rates, people and work."""

    name = models.CharField(max_length=200)
    currency = models.CharField(max_length=3)
    unit_system = models.CharField(max_length=8, default="imperial")
    rounding = models.CharField(max_length=9, default="half_up")  # of editions that state none
    sales_tax_by = models.CharField(max_length=7, default="invoice")  # of editions that state none
    cost_codes: Any = models.JSONField(default=dict)  # code -> title, of editions that state none
    time_zone = models.CharField(max_length=60, default="UTC")
    length_style = models.CharField(max_length=11, default="feet_inches")  # in which people read lengths
    length_denominator = models.PositiveSmallIntegerField(default=16)  # inches to 1/16 or 1/8
    discount_limit = models.CharField(max_length=20, default="")  # percent, of sales; "": they give nothing away
    estimator_discount_limit = models.CharField(max_length=20, default="")  # of estimator, rate keeper; "": none
    margin_floor = models.CharField(max_length=20, default="")  # percent; below it the principal is needed
    rate_move_limit = models.CharField(max_length=20, default="10")  # percent; a price that moves further is told
    second_approval = models.BooleanField(default=True)  # off: who drafted an edition may approve it
    invented = models.BooleanField(default=False)  # the demo company: refuses to be served to other hosts
    version = models.PositiveIntegerField(default=1)
    last_change = models.PositiveBigIntegerField(default=0)  # the latest number given in its feed
    last_quote = models.PositiveIntegerField(default=0)  # the latest number of a quote
    created_at = models.DateTimeField()


class Person(Identified):
    """Who holds a password for an invitation accepted, and works for one or several companies.

    An address is no identity: several people may sign in by one, each with the own password. `email` is that of the
    invitation with which the password was set; what a company calls a person, and by which address, is its member's.
    """

    email = models.CharField(max_length=254, db_index=True)  # in small letters
    password = models.CharField(max_length=256)  # hashed; all of one address with one salt (rates.actions.passwords)
    created_at = models.DateTimeField()


class SignInFailures(models.Model):
    """Attempts that count against one address, whether anybody has it or not: nothing tells the two apart."""

    address = models.CharField(max_length=64, primary_key=True)  # SHA-256 of it
    failures = models.PositiveIntegerField(default=0)
    locked_until = models.DateTimeField(null=True)
    at = models.DateTimeField()


class Member(Identified, CompanyOwned):
    """Somebody or some machine in a company, with a role; removed, the row stays, and what was done under its name.

    Approvals compare members, never keys.
    """

    person = models.ForeignKey(Person, null=True, on_delete=models.PROTECT, related_name="+")  # null: nobody signs in
    name = models.CharField(max_length=200, default="")  # as this company knows the person
    email = models.CharField(max_length=254, null=True)  # the address that was invited, in small letters
    role = models.CharField(max_length=12, default=Role.PRINCIPAL)
    invitation = models.CharField(max_length=64, default="")  # SHA-256 of the text that was shown once
    invited_until = models.DateTimeField(null=True)
    joined_at = models.DateTimeField(null=True)  # may sign in from then on
    removed_at = models.DateTimeField(null=True)
    version = models.PositiveIntegerField(default=1)
    created_at = models.DateTimeField()

    anywhere: models.Manager[Member] = models.Manager()

    class Meta:
        default_manager_name = "objects"
        constraints = [
            models.UniqueConstraint(fields=["company", "person"], name="member_person_once"),
            models.UniqueConstraint(fields=["company", "email"], name="member_email_once"),
        ]


class AccessKey(Identified, CompanyOwned):
    """A machine's credential: the prefix is shown, the secret only hashed (SHA-256 of 192 random bits)."""

    member = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    title = models.CharField(max_length=200)
    prefix = models.CharField(max_length=16, unique=True)
    digest = models.CharField(max_length=64)
    scopes: Any = models.JSONField()
    expires_at = models.DateTimeField(null=True)
    revoked_at = models.DateTimeField(null=True)
    last_used_at = models.DateTimeField(null=True)
    version = models.PositiveIntegerField(default=1)
    created_at = models.DateTimeField()

    anywhere: models.Manager[AccessKey] = models.Manager()

    class Meta:
        default_manager_name = "objects"
        indexes = [models.Index(fields=["company", "id"], name="access_key_of_company")]


class RateBook(Identified, CompanyOwned):
    """A set of rates through time: a company's whole one, or a branch's or project's that holds what differs."""

    name = models.CharField(max_length=200)
    note = models.CharField(max_length=2000, default="")
    layer = models.CharField(max_length=8, default="company")  # company, branch, project
    base = models.ForeignKey("self", null=True, on_delete=models.PROTECT, related_name="+")  # the layer below
    band: Any = models.JSONField(null=True)  # of a company's book: how far the layers on it may depart
    version = models.PositiveIntegerField(default=1)
    last_edition = models.PositiveIntegerField(default=0)
    created_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["company", "name"], name="rate_book_name_once"),
            models.CheckConstraint(
                condition=Q(layer="company", base=None) | Q(~Q(layer="company"), base__isnull=False),
                name="rate_book_base_tells",
            ),
        ]


class Edition(Identified, CompanyOwned):
    """One dated state of a rate book: one JSON document and its digest; never changed once approved."""

    rate_book = models.ForeignKey(RateBook, on_delete=models.PROTECT, related_name="+")
    number = models.PositiveIntegerField()
    state = models.CharField(max_length=10, default="draft")  # draft, submitted, approved, withdrawn
    effective_from = models.DateField()
    currency = models.CharField(max_length=3)
    note = models.CharField(max_length=2000, default="")
    document = models.TextField()
    digest = models.CharField(max_length=64)
    version = models.PositiveIntegerField(default=1)
    drafted_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    submitted_by = models.ForeignKey(Member, null=True, on_delete=models.PROTECT, related_name="+")
    submitted_at = models.DateTimeField(null=True)
    approved_by = models.ForeignKey(Member, null=True, on_delete=models.PROTECT, related_name="+")
    approved_at = models.DateTimeField(null=True)
    withdrawn_at = models.DateTimeField(null=True)
    reason = models.CharField(max_length=2000, default="")  # of the last sending back or withdrawal
    created_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["company", "rate_book", "number"], name="edition_number_once"),
            models.CheckConstraint(
                condition=Q(state__in=["draft", "submitted"], approved_at=None) | Q(approved_at__isnull=False),
                name="edition_approved_at_tells",
            ),
        ]
        indexes = [models.Index(fields=["company", "rate_book", "effective_from"], name="edition_in_force")]


class EditionStep(Identified, CompanyOwned):
    """A step in the life of an edition, never changed: who did what when, by which formula, for which reason."""

    rate_book = models.ForeignKey(RateBook, on_delete=models.PROTECT, related_name="+")
    edition = models.UUIDField()  # stays when a draft is deleted
    number = models.PositiveIntegerField()  # of the edition in its book
    step = models.CharField(max_length=20)
    member = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    reason = models.CharField(max_length=2000, default="")
    before = models.CharField(max_length=64, default="")  # digest of the edition
    after = models.CharField(max_length=64, default="")
    detail: Any = models.JSONField(default=dict)

    class Meta:
        indexes = [models.Index(fields=["company", "edition", "id"], name="edition_step_of_edition")]


class AuditEntry(Identified, CompanyOwned):
    """Who changed what, when, from where, before and after; never changed, never deleted."""

    at = models.DateTimeField()
    member = models.ForeignKey(Member, null=True, on_delete=models.PROTECT, related_name="+")
    key = models.UUIDField(null=True)  # the access key, where one was used
    way = models.CharField(max_length=8)  # key, session, command
    address = models.CharField(max_length=60, default="")
    request = models.CharField(max_length=36, default="")  # id of the request
    action = models.CharField(max_length=60)
    subject = models.UUIDField(null=True)
    before = models.BinaryField(null=True)  # compressed JSON
    after = models.BinaryField(null=True)

    class Meta:
        indexes = [
            models.Index(fields=["company", "id"], name="audit_of_company"),
            models.Index(fields=["company", "subject", "id"], name="audit_of_subject"),
        ]


class IdempotencyRecord(Identified, CompanyOwned):
    """The first answer to a POST that carried an Idempotency-Key; status is null while the first is in flight.

    `secret` marks an answer that showed a secret: its body is never kept.
    """

    owner = models.UUIDField()  # whose key it is: the access key or the member that sent it
    key = models.CharField(max_length=255)
    fingerprint = models.CharField(max_length=64)  # of method, address and body
    subject = models.UUIDField(null=True)  # the run that the answer waits for
    secret = models.BooleanField(default=False)
    status = models.PositiveSmallIntegerField(null=True)
    headers: Any = models.JSONField(default=dict)
    body = models.BinaryField(null=True)
    created_at = models.DateTimeField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["company", "owner", "key"], name="idempotency_key_once")]
        indexes = [models.Index(fields=["created_at"], name="idempotency_age")]
