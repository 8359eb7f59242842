"""What differs between two requests beside their openings, a phrase a change, each with the cause that it belongs to.

What is listed here as free of costs is shown to sales: a field that comes later stays out of their sight until then.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from estimating.compared.phrases import as_sentence, name_of, phrase
from estimating.compared.values import Reader, label, value_text
from estimating.core.attribution import OF_GIVEN, OF_REQUEST
from estimating.core.differences import Difference, differences, field_names
from estimating.core.request import Request
from rates.core.fraction import Fraction

CAUSE_OF = {field: cause for table in (OF_REQUEST, OF_GIVEN) for cause, fields in table.items() for field in fields}
LINES, GIVEN = "schedule", "given"
COSTLESS = frozenset(
    {
        "method", "barrier", "override", "depth_nm", "substrate", "seal", "joints", "only_external", "crew",
        "congestion", "rework", "stock", "materials", "exemption_certificate", "no_primer_reason", "empty_price",
        "work_date", "mobilisations", "parts", "temperature", "units", "allocate_by", "wall_area_nm2", "questions",
        "unit_prices", "return_trips", "quantities_from", "calendar",
    }
)  # fmt: skip
NAMES = {
    "stock": "stock of",
    "materials": "row for",
    "subcontracts": "subcontract",
    "allowances": "allowance",
    "unit_prices": "unit price of",
}
AMOUNTS = frozenset({"amount", "unit_price"})


@dataclass(frozen=True)
class Change:
    """One change as a phrase. cause: None where it moves no money; costless: whether it tells nothing of a cost."""

    cause: str | None
    words: str
    costless: bool

    @property
    def sentence(self) -> str:
        """The change alone."""
        return as_sentence(self.words)


def request_changes(before: Request, after: Request, reader: Reader) -> Iterator[Change]:
    """Every field that differs, those of the openings apart."""
    for field in field_names(before):
        if field == LINES:
            continue
        for found in differences(getattr(before, field), getattr(after, field), (field,), field):
            of = found.path[1] if field == GIVEN else field
            yield Change(CAUSE_OF.get(of), change_phrase(found, reader), of in COSTLESS)


def change_phrase(found: Difference, reader: Reader) -> str:
    """One difference in words."""
    if found.attribute == "done_before":
        return f"crew {experience(found.after, reader)} instead of {experience(found.before, reader)}"
    return phrase(found, name_in_request(found), reader)


def experience(done_before: Fraction | None, reader: Reader) -> Any:
    """How experienced a crew is."""
    if done_before is None:
        return "experienced"
    return f"with {value_text('', done_before, reader)} openings done before" if done_before else "new to the work"


def name_in_request(found: Difference) -> str:
    """What people call a field of a request."""
    path = found.path[1:] if found.path[0] in (GIVEN, "crew") else found.path
    if path[0] in NAMES and len(path) > 1:
        name = f"{NAMES[path[0]]} {path[1]}"
        return name if len(path) < 3 or path[0] == "stock" or path[2] in AMOUNTS else f"{name} {label(path[2])}"
    return name_of(path)
