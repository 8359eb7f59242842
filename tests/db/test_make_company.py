"""`manage.py make_company`: two keys in files that only their owner reads, and no company at all where that fails."""

from __future__ import annotations

from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from rates import models

pytestmark = pytest.mark.django_db


def make(name: str, folder: Path) -> str:
    """What the command prints."""
    out = StringIO()
    call_command("make_company", name, "--keys", str(folder), stdout=out)
    return out.getvalue()


def test_the_keys_are_the_owner_s_alone_and_their_place_is_told(tmp_path: Path) -> None:
    told = make("  Office ", tmp_path)
    for name in ("first.key", "approver.key"):
        assert (tmp_path / name).stat().st_mode & 0o777 == 0o600
        assert str(tmp_path / name) in told
    assert [company.name for company in models.Company.objects.all()] == ["Office"]
    with pytest.raises(CommandError, match=r"holds first\.key and approver\.key already"):
        make("Another", tmp_path)


@pytest.mark.parametrize("name", ["", "   ", "x" * 201, "a\nb", "a\u202eb"])
def test_a_name_that_is_none_makes_nothing(name: str, tmp_path: Path) -> None:
    with pytest.raises(CommandError, match="The company's name: "):
        make(name, tmp_path)
    assert (list(tmp_path.iterdir()), models.Company.objects.count()) == ([], 0)


def test_a_folder_that_is_not_there_makes_nothing(tmp_path: Path) -> None:
    with pytest.raises(CommandError, match="is no folder"):
        make("Office", tmp_path / "absent")
    assert models.Company.objects.count() == 0
