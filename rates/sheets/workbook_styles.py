"""What a workbook's cell styles say: that a number is a date or a percentage, its unit; that text is struck."""

from __future__ import annotations

import re
from decimal import Decimal

from rates.sheets.workbook_xml import local, parse

NUMBER_FORMATS = {2: "0.00", 4: "#,##0.00", 9: "0%", 10: "0.00%"}  # as below
DATE_FORMATS = frozenset({*range(14, 23), *range(27, 37), *range(45, 48), *range(50, 59)})  # ECMA-376 part 1, 18.8.30
_LITERAL = re.compile(r'"([^"]*)"|\\(.)|\[[^\]]*\]')
_PLACES = re.compile(r"0\.(0+)")
_DATE_LETTER = re.compile(r"[ymdhs]", re.IGNORECASE)
_NUMBER = re.compile(r"-?[0-9]{1,30}(?:\.[0-9]{1,40})?(?:[eE][+-]?[0-9]{1,2})?", re.ASCII)
UNIT_LITERALS = frozenset({"mm", "cm", "m", "in", "in.", "inch", "inches", "ft", "feet", '"', "'"})
SIGNIFICANT = 15  # what a spreadsheet itself keeps and shows; digits behind are binary noise


class Styles:
    """Cell style index -> "date", "%", a unit such as "mm", or "" for a plain number; its places; a struck font."""

    def __init__(self, data: bytes | None) -> None:
        self._codes: dict[int, str] = {}
        self._cells: list[tuple[int, int]] = []  # number format, font
        self._fonts: list[bool] = []  # struck through
        self._inside = self._in_fonts = False
        self._shown: dict[int, tuple[str, int]] = {}
        if data is not None:
            parse(data, self._start, self._end)

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        tag = local(name)
        if tag == "numFmt":
            self._codes[small(attributes.get("numFmtId"))] = attributes.get("formatCode", "")[:200]
        elif tag == "cellXfs":
            self._inside = True
        elif tag == "fonts":
            self._in_fonts = True
        elif tag == "font" and self._in_fonts and len(self._fonts) < 70_000:
            self._fonts.append(False)
        elif tag == "strike" and self._in_fonts and self._fonts:
            self._fonts[-1] = is_on(attributes)
        elif tag == "xf" and self._inside and len(self._cells) < 70_000:
            self._cells.append((small(attributes.get("numFmtId")), small(attributes.get("fontId"))))

    def _end(self, name: str) -> None:
        tag = local(name)
        if tag == "cellXfs":
            self._inside = False
        elif tag == "fonts":
            self._in_fonts = False

    @property
    def strikes(self) -> bool:
        """Whether any font of the workbook is struck through."""
        return any(self._fonts)

    def struck(self, index: str | None) -> bool:
        """Whether a cell of this style is struck through as a whole."""
        at = small(index)
        font = self._cells[at][1] if at < len(self._cells) else 0
        return self._fonts[font] if font < len(self._fonts) else False

    def shows(self, index: str | None) -> tuple[str, int]:
        """What the style shows of a number, and with how many places at least."""
        at = small(index)
        if at not in self._shown:
            self._shown[at] = self._decide(self._cells[at][0] if at < len(self._cells) else 0)
        return self._shown[at]

    def _decide(self, format_id: int) -> tuple[str, int]:
        code = self._codes.get(format_id, NUMBER_FORMATS.get(format_id))
        if code is None:
            return ("date" if format_id in DATE_FORMATS else ""), 0
        shape = code.split(";")[0]
        plain = _LITERAL.sub("", shape)
        if _DATE_LETTER.search(plain):
            return "date", 0
        found = _PLACES.search(plain)
        places = len(found[1]) if found else 0
        literals = ((quoted or escaped).strip() for quoted, escaped in _LITERAL.findall(shape))
        unit = next((literal for literal in literals if literal.lower() in UNIT_LITERALS), "")
        return "%" if "%" in plain else unit, places


def is_on(attributes: dict[str, str]) -> bool:
    """Whether a switch such as <strike/> or <strike val="1"/> is on."""
    return next((value for name, value in attributes.items() if local(name) == "val"), "1") not in ("0", "false")


def small(text: str | None) -> int:
    """A small whole number of an attribute; 0 where it is none."""
    return int(text) if text and len(text) < 8 and text.isascii() and text.isdigit() else 0


def stored_number(raw: str) -> str:
    """A stored number as a plain decimal of at most 15 significant digits; unreadable text as it stands."""
    if len(raw) < 16 and raw.isascii() and raw.isdigit():
        return raw
    if not _NUMBER.fullmatch(raw):
        return raw
    value = Decimal(raw)
    if value and not -20 < value.adjusted() < 20:
        return raw
    if len(value.as_tuple().digits) > SIGNIFICANT:
        value = value.quantize(Decimal(1).scaleb(value.adjusted() - SIGNIFICANT + 1))
    text = format(value, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def percent_number(text: str) -> str:
    """What a percentage shows of a number: 12 of 0.12; unreadable text as it stands."""
    return stored_number(format(Decimal(text).scaleb(2), "f")) if _NUMBER.fullmatch(text) else text


def with_places(text: str, places: int) -> str:
    """A number with as many places as are shown, and all that it has."""
    whole, _, rest = text.partition(".")
    shorter = len(rest) < places and _NUMBER.fullmatch(text) and "e" not in text.lower()
    return f"{whole}.{rest.ljust(places, '0')}" if shorter else text
