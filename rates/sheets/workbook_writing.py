"""Rows of cells as a workbook (.xlsx, ECMA-376): text is never a formula, numbers and dates are such.

A number's text goes into its cell as it stands, shown with as many places. One of more than 15 significant digits,
which no spreadsheet holds, is text: no digit is lost, and none is added up. A formula is a `Computed` that the code
makes, never a text: it is written with its value, and computed anew when the workbook is opened.
"""

from __future__ import annotations

import datetime
import io
import re
import zipfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from xml.sax.saxutils import escape, quoteattr

from rates.core.grid import Cell, Computed, NumberText, column_letters

SIGNIFICANT = 15
MOST_CHARACTERS = 32_767  # of a cell
MOST_NAME = 31  # characters of a sheet's name
EPOCH = datetime.datetime(1899, 12, 30, tzinfo=datetime.UTC)
FIRST_DAY = datetime.date(1900, 3, 1)  # before it spreadsheets count a day that never was
MOST_PLACES = 15
GENERAL, TEXT, BOLD, DATE, TIME, PLAIN = range(6)  # cell styles; PLAIN + n is a number of n places
NARROW, WIDE = 9, 60  # characters
NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.([0-9]+))?", re.ASCII)
_ESCAPED = re.compile("_(?=x[0-9A-Fa-f]{4}_)|[\\x00-\\x08\\x0b-\\x1f\\ufffe\\uffff\\ud800-\\udfff]")
_NAMESPACE = "http://schemas.openxmlformats.org/"
_MAIN = f'xmlns="{_NAMESPACE}spreadsheetml/2006/main"'
_RELATIONS = f"{_NAMESPACE}officeDocument/2006/relationships"
_PACKAGE = f"{_NAMESPACE}package/2006/"
_KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'


def write_workbook(sheets: Mapping[str, Iterable[Sequence[Cell]]]) -> bytes:
    """One sheet for each name, in their order, the first row of each as its heading; equal sheets give equal bytes."""
    held = io.BytesIO()
    names = sheet_names(sheets)
    made = {f"xl/worksheets/sheet{n}.xml": sheet_xml(list(rows)) for n, rows in enumerate(sheets.values(), 1)}
    parts = fixed_parts(names, any("<f>" in content for content in made.values())) | made
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as package:
        for part, content in parts.items():
            package.writestr(zipfile.ZipInfo(part), _HEAD + content, zipfile.ZIP_DEFLATED)
    return held.getvalue()


def sheet_names(titles: Iterable[str]) -> list[str]:
    """Names that a workbook takes, each once: of words alone, short enough."""
    found: list[str] = []
    for title in titles:
        plain = re.sub(r"[^\w -]", " ", title).strip()[:MOST_NAME] or "sheet"
        name, again = plain, 1
        while name.lower() in {other.lower() for other in found}:
            again += 1
            name = f"{plain[: MOST_NAME - 4]} {again}"
        found.append(name)
    return found


def fixed_parts(names: Sequence[str], computed: bool) -> dict[str, str]:
    """The parts of a package beside its sheets; computed: formulas are to be computed when it is opened."""
    again = '<calcPr fullCalcOnLoad="1"/>' if computed else ""
    numbered = list(enumerate(names, 1))
    sheets = "".join(f'<sheet name={quoteattr(name)} sheetId="{n}" r:id="r{n}"/>' for n, name in numbered)
    kinds = "".join(
        f'<Override PartName="/xl/worksheets/sheet{n}.xml" ContentType="{_KIND}.worksheet+xml"/>' for n, _ in numbered
    )
    relations = "".join(relation(f"r{n}", "worksheet", f"worksheets/sheet{n}.xml") for n, _ in numbered)
    return {
        "[Content_Types].xml": f'<Types xmlns="{_PACKAGE}content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        '<Default Extension="xml" ContentType="application/xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{_KIND}.sheet.main+xml"/>'
        f'<Override PartName="/xl/styles.xml" ContentType="{_KIND}.styles+xml"/>{kinds}</Types>',
        "_rels/.rels": f'<Relationships xmlns="{_PACKAGE}relationships">'
        f"{relation('r1', 'officeDocument', 'xl/workbook.xml')}</Relationships>",
        "xl/workbook.xml": f'<workbook {_MAIN} xmlns:r="{_RELATIONS}"><sheets>{sheets}</sheets>{again}</workbook>',
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{_PACKAGE}relationships">{relations}'
        f"{relation('styles', 'styles', 'styles.xml')}</Relationships>",
        "xl/styles.xml": styles_xml(),
    }


def relation(id: str, kind: str, target: str) -> str:
    """One part that another names."""
    return f'<Relationship Id="{id}" Type="{_RELATIONS}/{kind}" Target="{target}"/>'


def styles_xml() -> str:
    """The cell styles; text is marked as such, so that typing over it makes no formula and no number of it."""
    codes = ["yyyy-mm-dd", "yyyy-mm-dd hh:mm:ss", *("0." + "0" * n for n in range(1, MOST_PLACES + 1))]
    formats = "".join(f'<numFmt numFmtId="{164 + i}" formatCode="{code}"/>' for i, code in enumerate(codes))
    ids = [(0, 0), (49, 0), (49, 1), (164, 0), (165, 0), (1, 0), *((165 + n, 0) for n in range(1, MOST_PLACES + 1))]
    cells = "".join(f'<xf numFmtId="{i}" fontId="{f}" applyNumberFormat="1" applyFont="1"/>' for i, f in ids)
    font = '<sz val="11"/><name val="Calibri"/>'
    fills = '<fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill>'
    return (
        f'<styleSheet {_MAIN}><numFmts count="{len(codes)}">{formats}</numFmts>'
        f'<fonts count="2"><font>{font}</font><font><b/>{font}</font></fonts>'
        f'<fills count="2">{fills}</fills><borders count="1"><border/></borders>'
        f'<cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="{len(ids)}">{cells}</cellXfs>'
        '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
    )


def sheet_xml(rows: Sequence[Sequence[Cell]]) -> str:
    """One sheet, its heading bold and standing still."""
    pane = '<pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/>'
    view = f'<sheetViews><sheetView workbookViewId="0">{pane}</sheetView></sheetViews>'
    columns = "".join(f'<col min="{i}" max="{i}" width="{width}"/>' for i, width in enumerate(widths(rows), 1))
    lines = "".join(
        f'<row r="{r}">{"".join(row_xml(row, str(r), BOLD if r == 1 else TEXT))}</row>' for r, row in enumerate(rows, 1)
    )
    return (
        f"<worksheet {_MAIN}>{view}{f'<cols>{columns}</cols>' if columns else ''}"
        f"<sheetData>{lines}</sheetData></worksheet>"
    )


def widths(rows: Sequence[Sequence[Cell]]) -> Iterator[int]:
    """The width of each column, by what stands in its first thousand rows."""
    for column in range(max(map(len, rows), default=0)):
        longest = max((shown_width(row[column]) for row in rows[:1000] if column < len(row)), default=0)
        yield min(max(longest + 2, NARROW), WIDE)


def shown_width(value: Cell) -> int:
    """How many characters a cell shows, or nearly so."""
    if isinstance(value, Computed):
        return len(value.value.partition(".")[0]) + value.places + 1
    return len(str(value))


def row_xml(row: Sequence[Cell], number: str, style: int) -> Iterator[str]:
    """The cells of a row that hold something; `style` is that of text."""
    for column, value in enumerate(row):
        if value is not None and value != "":
            yield cell_xml(value, column_letters(column) + number, style)


def cell_xml(value: Cell, place: str, style: int) -> str:
    """One cell."""
    if isinstance(value, bool):
        return f'<c r="{place}" t="b"><v>{int(value)}</v></c>'
    if isinstance(value, Computed):
        formula = f"<f>{escape(value.formula)}</f>" if value.formula else ""
        return f'<c r="{place}" s="{PLAIN + value.places}">{formula}<v>{value.value}</v></c>'
    if isinstance(value, NumberText):
        places = number_places(value)
        if places is not None:
            return f'<c r="{place}" s="{PLAIN + places}"><v>{value}</v></c>'
    elif isinstance(value, datetime.date):
        serial = serial_number(value)
        if serial:
            return f'<c r="{place}" s="{TIME if isinstance(value, datetime.datetime) else DATE}"><v>{serial}</v></c>'
        value = value.isoformat()
    return f'<c r="{place}" s="{style}" t="inlineStr"><is><t xml:space="preserve">{text_xml(str(value))}</t></is></c>'


def number_places(text: str) -> int | None:
    """The places of a number that a spreadsheet holds exactly; None for any other."""
    match = NUMBER.fullmatch(text)
    if match is None or len(text.lstrip("-0.").replace(".", "")) > SIGNIFICANT:
        return None
    places = len(match[1] or "")
    return places if places <= MOST_PLACES and not (text[0] == "-" and not text.strip("-0.")) else None


def serial_number(value: datetime.date) -> str:
    """The days since 1899-12-30 of a date, or of a time in UTC to the second; blank before 1900-03-01."""
    if value.year < FIRST_DAY.year or (not isinstance(value, datetime.datetime) and value < FIRST_DAY):
        return ""
    if not isinstance(value, datetime.datetime):
        return str((value - EPOCH.date()).days)
    since = value.astimezone(datetime.UTC) - EPOCH
    part = (since.seconds * 10**9 + 43_200) // 86_400
    return f"{since.days}.{part:09d}"


def text_xml(text: str) -> str:
    """A cell's text; what XML can't hold is escaped as ECMA-376 part 1, 22.9.2.19 has it."""
    plain = _ESCAPED.sub(lambda match: f"_x{ord(match[0]):04X}_", text[:MOST_CHARACTERS])
    return escape(plain)
