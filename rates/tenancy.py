"""Who owns a row: every table of a company's own carries the company, and no read goes without naming one.

`Model.objects` refuses (CompanyMissing); `Model.objects.of(company_id)` reads one company's rows. Tables that work
before a company is known are listed in rates.scope.WITHOUT_COMPANY and have a second way in, `Model.anywhere`; a test
compares that list with the models. The second layer, the database's own, is told by the scopes of rates.scope.
"""

from __future__ import annotations

import uuid
from typing import Any, ClassVar, Self, TypeVar

from django.db import models

from rates.identity import new_id
from rates.scope import CompanyMissing

Row = TypeVar("Row", bound=models.Model)


class CompanyRows(models.QuerySet[Row]):
    """Rows of one company; made by CompanyManager.of alone."""


class CompanyManager(models.Manager[Row]):
    """Refuses every read that names no company."""

    def get_queryset(self) -> models.QuerySet[Row]:
        raise CompanyMissing(f"{self.model.__name__} is read with objects.of(company), never without a company")

    def of(self, company: uuid.UUID) -> CompanyRows[Row]:
        """The rows of `company`."""
        if not isinstance(company, uuid.UUID):
            raise CompanyMissing(f"{self.model.__name__} is read for a company's id, not for {type(company).__name__}")
        return CompanyRows(self.model, using=self._db).filter(company_id=company)

    def add(self, *, company: uuid.UUID, **values: Any) -> Row:
        """A new row of `company`, stored."""
        if not isinstance(company, uuid.UUID):
            raise CompanyMissing(f"{self.model.__name__} is made for a company's id")
        row = self.model(company_id=company, **values)
        row.save(force_insert=True, using=self._db)
        return row


class Identified(models.Model):
    """A row known by a UUIDv7."""

    id = models.UUIDField(primary_key=True, default=new_id, editable=False)

    class Meta:
        abstract = True


class CompanyOwned(models.Model):
    """A row of one company; the company leads its indexes and stands in every unique constraint."""

    company = models.ForeignKey("rates.Company", on_delete=models.PROTECT, related_name="+")

    objects: ClassVar[CompanyManager[Self]] = CompanyManager()

    class Meta:
        abstract = True
