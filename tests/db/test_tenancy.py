"""Nobody reads without naming a company; the tables that may are listed, and the list is the truth."""

from __future__ import annotations

import uuid

import pytest
from django.apps import apps
from django.db import models

from rates import scope
from rates.models import AccessKey, RateBook
from rates.scope import WITHOUT_COMPANY, CompanyMissing
from rates.tenancy import CompanyManager, CompanyOwned
from tests.cast import Office, make_office

OWN = [model for label in ("rates", "estimating") for model in apps.get_app_config(label).get_models()]


def owned(model: type[models.Model]) -> bool:
    return issubclass(model, CompanyOwned)


@pytest.mark.parametrize("model", OWN, ids=lambda model: model.__name__)
def test_a_table_is_owned_or_listed(model: type[models.Model]) -> None:
    second_way = any(type(m) is models.Manager for m in model._meta.managers if not isinstance(m, CompanyManager))
    assert (model._meta.label in WITHOUT_COMPANY) == (not owned(model) or second_way)


@pytest.mark.parametrize("model", [m for m in OWN if owned(m)], ids=lambda model: model.__name__)
def test_an_owned_table_refuses_reads_without_a_company(model: type[models.Model]) -> None:
    for read in ("all", "count", "first", "exists"):
        with pytest.raises(CompanyMissing):
            getattr(model._default_manager, read)()
    with pytest.raises(CompanyMissing):
        model._default_manager.filter(pk=uuid.uuid4())
    with pytest.raises(CompanyMissing):
        model._default_manager.of("everyone")  # type: ignore[attr-defined]


@pytest.mark.parametrize("model", [m for m in OWN if owned(m)], ids=lambda model: model.__name__)
def test_the_company_stands_in_every_unique_constraint_but_the_key(model: type[models.Model]) -> None:
    for constraint in model._meta.constraints:
        if isinstance(constraint, models.UniqueConstraint):
            assert "company" in constraint.fields, constraint.name
    unique = {field.name for field in model._meta.fields if field.unique and not field.primary_key}
    assert unique == ({"prefix"} if model is AccessKey else set())


def test_one_company_sees_nothing_of_another(office: Office) -> None:
    other = make_office("Other")
    assert [row.pk for row in RateBook.objects.of(office.company)] == [office.rate_book]
    assert not RateBook.objects.of(other.company).filter(pk=office.rate_book).exists()


def test_the_scope_of_a_company_takes_an_id() -> None:
    with pytest.raises(CompanyMissing):
        with scope.company("everyone"):
            raise AssertionError("never reached")
