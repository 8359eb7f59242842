"""Keys that could answer before answers had a scope of their own still can; a second run changes nothing."""

from __future__ import annotations

from importlib import import_module

import pytest
from django.apps import apps

from rates import models
from rates.actions import companies
from tests.cast import NOW, Office

pytestmark = pytest.mark.django_db
give_answers = import_module("rates.migrations.0007_answers_scope").give_answers


def test_keys_with_estimate_get_answers_and_no_others(office: Office) -> None:
    who = {"company": office.company, "member": office.drafter, "now": NOW}
    made = {
        name: companies.make_key(**who, title=name, scopes=scopes).key.id
        for name, scopes in (("erp", ["read", "estimate"]), ("look", ["read"]))
    }
    for _ in range(2):
        give_answers(apps, None)
        scopes = dict(models.AccessKey.objects.of(office.company).values_list("id", "scopes"))
        assert scopes[made["erp"]] == ["answers", "estimate", "read"] and scopes[made["look"]] == ["read"]
