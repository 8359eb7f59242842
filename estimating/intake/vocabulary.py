"""The words of units and of fields that take one of a few words, and the words that say that nothing is known.

Trade words (common practice, no source).
"""

from __future__ import annotations

from rates.core.tables import ACCESS, SUBSTRATES

UNIT_WORDS = {
    **dict.fromkeys(("mm", "millimeters", "millimetres", "millimeter", "millimetre"), "mm"),
    **dict.fromkeys(("cm", "centimeters", "centimetres"), "cm"),
    **dict.fromkeys(("m", "meters", "metres", "meter", "metre"), "m"),
    **dict.fromkeys(("in", "inch", "inches", '"'), "in"),
    **dict.fromkeys(("ft", "feet", "foot", "'"), "ft"),
    **dict.fromkeys(
        ("ft-in", "ftin", "feet-inches", "ft in", "feet & inches", "feet and inches", "feet inches"), "ft_in"
    ),
}
TRUE_WORDS = frozenset({"true", "yes", "y", "ext", "ext.", "exterior", "external", "x", "1", "e"})
FALSE_WORDS = frozenset({"false", "no", "n", "int", "int.", "interior", "internal", "0", "i"})
UNKNOWN_WORDS = frozenset({"", "n/a", "na", "-", "–", "—", "?", "tbd", "tbc", "unknown", "none given", "varies", "var"})


def choice_of(text: str, words: tuple[str, ...]) -> str | None:
    """One of a field's words, however it is spaced; None where it is none of them."""
    plain = "_".join(text.lower().replace("-", " ").split())
    return plain if plain in words else None


def access_of(text: str) -> str | None:
    """The access that a cell names."""
    return choice_of(text, ACCESS)


def substrate_of(text: str) -> str | None:
    """The substrate that a cell names."""
    return choice_of(text, SUBSTRATES)
