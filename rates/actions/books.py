"""Rate books: made and renamed."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from typing import Any

from django.db import transaction

from rates import models
from rates.core.problems import Problem, Refused
from rates.queries import books as shown
from rates.refusals import Conflict, Expected, NotThere


@transaction.atomic
def make_book(
    *,
    company: uuid.UUID,
    name: str,
    now: datetime.datetime,
    note: str = "",
    layer: str = "company",
    base: uuid.UUID | None = None,
    band: Mapping[str, Any] | None = None,
) -> shown.RateBook:
    """A new rate book without editions; Conflict where the name is taken, Refused where it can't stand on `base`.

    band: how far the layers on a company's book may depart, as a body states it.
    """
    refuse_taken_name(company, name)
    found = models.RateBook.objects.of(company).filter(pk=base).first() if base is not None else None
    refuse_wrong_base(layer, base, found)
    refuse_band(layer, band)
    row = models.RateBook.objects.add(
        company=company, name=name, note=note, layer=layer, base=found, band=band, created_at=now
    )
    return shown.show_book(row)


def refuse_wrong_base(layer: str, base: uuid.UUID | None, found: models.RateBook | None) -> None:
    """Refused unless a company's book stands alone, a branch's on a company's, a project's on either."""
    below = {"company": (), "branch": ("company",), "project": ("company", "branch")}[layer]
    if base is None and below:
        raise Refused([Problem("/base", "missing", f"a {layer}'s rates stand on another rate book: name it")])
    if base is not None and found is None:
        raise Refused([Problem("/base", "not_found", "there is no such rate book")])
    if found is not None and found.layer not in below:
        detail = f"a {layer}'s rates can't stand on a {found.layer}'s"
        raise Refused([Problem("/base", "wrong_layer", detail)])


def refuse_band(layer: str, band: Mapping[str, Any] | None) -> None:
    """Refused for a band on a layer: the company's book sets it."""
    if band is not None and layer != "company":
        raise Refused([Problem("/band", "wrong_layer", "the band stands in the company's rate book")])


@transaction.atomic
def change_book(*, company: uuid.UUID, id: uuid.UUID, changes: Mapping[str, Any], expected: Expected) -> shown.RateBook:
    """The rate book with a new name, note or band; NotThere, Stale, Conflict, Refused."""
    row = lock_book(company, id)
    expected.check(shown.show_book(row))
    if changes.get("name", row.name) != row.name:
        refuse_taken_name(company, changes["name"])
    refuse_band(row.layer, changes.get("band"))
    for name in ("name", "note", "band"):
        if name in changes:
            setattr(row, name, changes[name])
    row.version += 1
    row.save()
    return shown.show_book(row)


def lock_book(company: uuid.UUID, id: uuid.UUID) -> models.RateBook:
    """The book's row, held until the transaction ends; NotThere."""
    row = models.RateBook.objects.of(company).select_for_update().filter(pk=id).first()
    if row is None:
        raise NotThere
    return row


def refuse_taken_name(company: uuid.UUID, name: str) -> None:
    """Conflict where the company has a book of that name; the row of the company is held, so that it stays so."""
    models.Company.objects.select_for_update().get(pk=company)
    if models.RateBook.objects.of(company).filter(name=name).exists():
        raise Conflict("name_taken", "a rate book of this name exists")
