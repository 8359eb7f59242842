"""An estimate's parts against a worked case: what the case shows must be there, to the cent."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

PARTS = ("openings", "materials", "equipment", "hours", "pieces")


def differences(expected: Any, found: Any, at: str = "") -> list[str]:
    """Where `found` lacks or differs from what `expected` shows; `note` is ignored."""
    if isinstance(expected, Mapping):
        if not isinstance(found, Mapping):
            return [f"{at}: {found!r} is no object"]
        return [
            line
            for name, value in expected.items()
            if name != "note"
            for line in differences(value, found.get(name), f"{at}/{name}")
        ]
    if isinstance(expected, list):
        if not isinstance(found, list) or len(found) != len(expected):
            return [f"{at}: {expected!r} expected, not {found!r}"]
        return [line for i, value in enumerate(expected) for line in differences(value, found[i], f"{at}/{i}")]
    return [] if expected == found else [f"{at}: {expected!r} expected, not {found!r}"]


def sum_by_step(build_up: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The lines of a build-up with those of one step added up."""
    sums: Counter[str] = Counter()
    places: dict[str, int] = {}
    for line in build_up:
        digits = len(line["amount"].partition(".")[2])
        places[line["step"]] = digits
        sums[line["step"]] += Decimal(line["amount"])  # type: ignore[assignment]
    return [{"step": step, "amount": f"{sums[step]:.{digits}f}"} for step, digits in places.items()]


def merge_pieces(items: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Pieces by material and length, longest first."""
    counts: Counter[tuple[str, str]] = Counter()
    for item in items:
        counts[item["material"], item["length"]] += item["count"]
    ordered = sorted(counts.items(), key=lambda entry: (entry[0][0], -Decimal(entry[0][1])))
    return [{"material": m, "length": length, "count": count} for (m, length), count in ordered]


def comparable(document: Mapping[str, Any]) -> dict[str, Any]:
    """A document with what may be written in several ways brought into one."""
    found = dict(document)
    if "build_up" in found:
        found["build_up"] = sum_by_step(found["build_up"])
    if "pieces" in found:
        found["pieces"] = dict(found["pieces"]) | {"items": merge_pieces(found["pieces"]["items"])}
    return found


def check_laws(document: Mapping[str, Any], cost_codes: list[dict[str, Any]]) -> None:
    """The laws of contract.md that hold for every costed estimate."""
    price = Decimal(document["totals"]["price"])
    assert sum(Decimal(line["amount"]) for line in document["build_up"]) == price
    assert sum(Decimal(mark["price"]) for mark in document["by_mark"]) == price
    assert sum(Decimal(line["amount"]) for line in cost_codes) == price
