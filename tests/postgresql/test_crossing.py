"""The cross-company matrix by the service's role: whole, without the manager's layer, without the database's."""

from __future__ import annotations

from contextlib import nullcontext
from typing import Any

import pytest
from django.db import connection

from api.isolation import own_models
from rates.tenancy import CompanyManager, CompanyRows
from tests.http.crossing import cross
from tests.http.worlds import make_worlds
from tests.postgresql.roles import as_service


@pytest.fixture(autouse=True)
def unlimited(settings: Any) -> None:
    settings.WRONG_KEYS_LIMIT = settings.RATE_LIMIT = 100_000
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


def rows_of_all(self: CompanyManager[Any], company: object) -> CompanyRows[Any]:
    """Every company's rows: the first layer switched off."""
    return CompanyRows(self.model, using=self._db).all()


def switch_off_policies() -> None:
    """The second layer switched off; the flush after the test puts it back."""
    with connection.cursor() as cursor:
        for model in own_models():
            cursor.execute(f"ALTER TABLE {model._meta.db_table} DISABLE ROW LEVEL SECURITY")


def test_with_both_layers(rules: None, capfd: Any) -> None:
    assert cross(make_worlds(), as_service(), capfd, reached=1) > 400


def test_with_the_manager_s_layer_off(rules: None, capfd: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    worlds = make_worlds()
    scope = as_service()
    monkeypatch.setattr(CompanyManager, "of", rows_of_all)
    assert cross(worlds, scope, capfd, reached=1) > 400


def test_with_the_policies_off(rules: None, capfd: Any) -> None:
    worlds = make_worlds()
    switch_off_policies()
    assert cross(worlds, as_service(), capfd, reached=1) > 400


def test_with_neither_layer_the_matrix_finds_what_leaks(
    rules: None, capfd: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    worlds = make_worlds()
    switch_off_policies()
    monkeypatch.setattr(CompanyManager, "of", rows_of_all)
    with pytest.raises(AssertionError, match="is not"):
        cross(worlds, nullcontext(), capfd, reached=1)
