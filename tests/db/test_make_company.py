"""`manage.py make_company`: two keys in files that only their owner reads, and no company at all where that fails."""

from __future__ import annotations

from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from rates import models

pytestmark = pytest.mark.django_db


def make(name: str, folder: Path, *options: str) -> str:
    """What the command prints."""
    out = StringIO()
    call_command("make_company", name, "--keys", str(folder), *options, stdout=out)
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


@pytest.mark.parametrize(
    ("options", "style"),
    [
        ((), ("feet_inches", 16)),
        (("--units", "metric"), ("mm", 16)),
        (("--units", "metric", "--length-style", "m"), ("m", 16)),
        (("--length-style", "inches", "--length-denominator", "8"), ("inches", 8)),
    ],
)
def test_lengths_are_read_as_told_or_as_the_units_have_it(
    options: tuple[str, ...], style: tuple[str, int], tmp_path: Path
) -> None:
    make("Office", tmp_path, *options)
    assert models.Company.objects.values_list("length_style", "length_denominator").get() == style


def test_a_length_style_that_is_none_makes_nothing(tmp_path: Path) -> None:
    for wrong in (("--length-style", "cubits"), ("--length-denominator", "7")):
        with pytest.raises(CommandError, match="invalid choice"):
            make("Office", tmp_path, *wrong)
    assert (list(tmp_path.iterdir()), models.Company.objects.count()) == ([], 0)
