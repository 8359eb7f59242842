"""The cut pieces as people read them: beside each exact length and width its text in a company's style.

Made anew each time they are asked for, from what is stored and never into it: another style changes no document.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rates.core.exact import read_decimal
from rates.core.length_styles import LengthStyle
from rates.core.units import LENGTH_NM

SHOWN = {"length": "length_shown", "width": "width_shown"}


def show_pieces(pieces: Mapping[str, Any], unit: str, style: LengthStyle) -> dict[str, Any]:
    """The pieces with the texts, rounded up to the style's step for cutting; exact lengths are in `unit`.

    They are printed at six places: what the last place was rounded up by counts for nothing.
    """
    size, texts = LENGTH_NM[unit], dict[str, str]()
    doubt = size / (2 * 10**6)

    def show(exact: str) -> str:
        if exact not in texts:
            texts[exact] = style.show_cut(read_decimal(exact, max_digits=40) * size - doubt)
        return texts[exact]

    items = []
    for item in pieces["items"]:
        row: dict[str, Any] = {}
        for name, value in item.items():
            row[name] = value
            if name in SHOWN:
                row[SHOWN[name]] = show(value)
        items.append(row)
    return {**pieces, "items": items}
