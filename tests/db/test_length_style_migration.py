"""Companies that stood before there was a length style get that of their unit system; a second run changes nothing."""

from __future__ import annotations

from importlib import import_module

import pytest
from django.apps import apps

from rates import models
from rates.core.length_styles import STYLE_OF_UNITS
from tests.cast import NOW

pytestmark = pytest.mark.django_db
give_style_of_units = import_module("rates.migrations.0004_length_style").give_style_of_units


def test_each_company_gets_the_style_of_its_units() -> None:
    for units in STYLE_OF_UNITS:  # as the new column's default leaves them
        models.Company.objects.create(name=units, currency="USD", unit_system=units, created_at=NOW)
    for _ in range(2):
        give_style_of_units(apps, None)
        assert dict(models.Company.objects.values_list("unit_system", "length_style")) == STYLE_OF_UNITS
    assert set(models.Company.objects.values_list("version", flat=True)) == {1}
