"""The cut pieces as people read them: beside each exact length and width its text in a company's style.

Made anew each time they are asked for, from what is stored and never into it: another style changes no document.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from rates.core.exact import read_decimal
from rates.core.fraction import Fraction
from rates.core.length_styles import LengthStyle
from rates.core.units import LENGTH_NM

SHOWN = ("length", "width", "start", "end", "rest", "longest_rest", "cut_to")  # of pieces, rolls and plans


def show_lengths(items: Iterable[Mapping[str, Any]], unit: str, style: LengthStyle) -> list[dict[str, Any]]:
    """The items with the texts, rounded up to the style's step for cutting; exact lengths are in `unit`.

    They are printed at six places: what the last place was rounded up by counts for nothing.
    """
    size, texts = LENGTH_NM[unit], dict[str, str]()
    doubt = size / (2 * 10**6)

    def show(exact: str) -> str:
        if exact not in texts:
            texts[exact] = style.show_cut(max(Fraction(0), read_decimal(exact, max_digits=40) * size - doubt))
        return texts[exact]

    found = []
    for item in items:
        row: dict[str, Any] = {}
        for name, value in item.items():
            row[name] = value
            if name in SHOWN:
                row[f"{name}_shown"] = show(value)
        found.append(row)
    return found


def show_pieces(pieces: Mapping[str, Any], unit: str, style: LengthStyle) -> dict[str, Any]:
    """The pieces with the texts."""
    return {**pieces, "items": show_lengths(pieces["items"], unit, style)}


def rows_by_mark(items: Iterable[Mapping[str, Any]]) -> Iterator[dict[str, Any]]:
    """The pieces a row for each mark, each with the count of that mark alone."""
    for item in items:
        size = {name: value for name, value in item.items() if name not in ("count", "marks")}
        for mark, count in item["marks"].items():
            yield size | {"mark": mark, "count": count}
