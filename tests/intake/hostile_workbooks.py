"""Workbooks whose package is sound and whose cells are not."""

from __future__ import annotations

from collections.abc import Iterator

from tests.intake.hostile_packages import SHEET, packed, parts, sound

HEAD = (
    '<row r="1">' + "".join(
        f'<c r="{c}1" t="inlineStr"><is><t>{t}</t></is></c>'
        for c, t in zip("ABCD", ("MARK", "QTY", "WIDTH (IN)", "HEIGHT (IN)"), strict=True)
    ) + "</row>"
)  # fmt: skip
LINE = '<row r="2">{}</row>'
MARK = '<c r="A2" t="inlineStr"><is><t>W1</t></is></c>'
NUMBERS = (
    "1e999", "1E+1000000", "NaN", "INF", "-INF", "-0", "9" * 400, "1e-999", "0x1F", "1_000", "٣", "", " ", "1 2", "1e5",
    "36.375000000000007", "0.1e1", "1e20", "-1", "1e400000000000",
)  # fmt: skip


def books() -> Iterator[tuple[str, bytes]]:
    """All of them."""
    content = parts(sound())

    def book(rows: str, before: str = "", after: str = "") -> bytes:
        sheet = f"<worksheet>{before}<sheetData>{HEAD}{rows}</sheetData>{after}</worksheet>"
        return packed(content | {SHEET: sheet.encode("utf-8", "surrogatepass")})

    for place, number in enumerate(NUMBERS):
        cells = f'{MARK}<c r="B2"><v>1</v></c><c r="C2"><v>{number}</v></c><c r="D2"><v>48</v></c>'
        yield f"cell-number-{place:02}.xlsx", book(LINE.format(cells))
        counted = f'{MARK}<c r="B2"><v>{number}</v></c><c r="C2"><v>36</v></c><c r="D2"><v>48</v></c>'
        yield f"cell-count-{place:02}.xlsx", book(LINE.format(counted))
    for name, cell in odd_cells().items():
        rest = '<c r="B2"><v>1</v></c><c r="D2"><v>48</v></c>'
        yield f"cell-{name}.xlsx", book(LINE.format(MARK + cell + rest))
    yield "rows-number-huge.xlsx", book('<row r="99999999999"><c><v>1</v></c></row>')
    yield "rows-number-negative.xlsx", book('<row r="-5"><c r="A-5"><v>1</v></c></row>')
    yield "rows-all-alike.xlsx", book('<row r="2"><c r="A2"><v>1</v></c></row>' * 5_000)
    yield (
        "rows-backwards.xlsx",
        book("".join(f'<row r="{r}"><c r="A{r}"><v>1</v></c></row>' for r in range(2_000, 1, -1))),
    )
    yield "rows-empty.xlsx", book('<row r="2"/>' * 300_000)
    yield "rows-nested.xlsx", book("<row><row><row><c><c><v>1</v></c></c></row></row></row>")
    yield "columns-hidden-all.xlsx", book(LINE.format(MARK), '<cols><col min="1" max="16384" hidden="1"/></cols>')
    yield "columns-hidden-wild.xlsx", book(LINE.format(MARK), '<cols><col min="-9" max="999999999" hidden="1"/></cols>')
    whole = '<mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>'
    yield "merge-whole-sheet.xlsx", book(LINE.format(MARK), "", whole)
    many = '<mergeCell ref="A2:A1048576"/>' * 50_000
    yield "merge-many.xlsx", book(LINE.format(MARK), "", f"<mergeCells>{many}</mergeCells>")
    yield "merge-odd.xlsx", book(LINE.format(MARK), "", '<mergeCells><mergeCell ref="9A:B"/><mergeCell/></mergeCells>')
    yield "many-columns.xlsx", book('<row r="2">' + "<c><v>1</v></c>" * 5_000 + "</row>")
    yield "cells-many.xlsx", book("".join(f'<row r="{r}">{"<c><v>1</v></c>" * 150}</row>' for r in range(2, 400)))


def odd_cells() -> dict[str, str]:
    """Single cells of every odd kind, all in C2."""
    texts = {
        "formula": "<f>1+1</f><v>2</v>",
        "formula-no-value": "<f>1+1</f>",
        "formula-shared": '<f t="shared" si="0"/><v>36</v>',
        "formula-array": '<f t="array" ref="C2:C9">SUM(A1:A9)</f><v>36</v>',
        "formula-outside": "<f>'http://invalid/[x.xlsx]S'!A1</f><v>36</v>",
        "formula-long": f"<f>{'1+' * 50_000}1</f><v>1</v>",
        "value-long": f"<v>{'9' * 1_000_000}</v>",
        "nested-value": "<v><v><v>36</v></v></v>",
    }
    cells = {name: f'<c r="C2">{inner}</c>' for name, inner in texts.items()}
    return cells | {
        "string-index-wild": '<c r="C2" t="s"><v>99999999999</v></c>',
        "string-index-negative": '<c r="C2" t="s"><v>-1</v></c>',
        "string-index-text": '<c r="C2" t="s"><v>x</v></c>',
        "error": '<c r="C2" t="e"><v>#REF!</v></c>',
        "bool": '<c r="C2" t="b"><v>1</v></c>',
        "date-text": '<c r="C2" t="d"><v>2027-01-01T00:00:00</v></c>',
        "kind-unknown": '<c r="C2" t="zz"><v>36</v></c>',
        "style-wild": '<c r="C2" s="999999"><v>36</v></c>',
        "style-negative": '<c r="C2" s="-1"><v>36</v></c>',
        "reference-last": '<c r="XFD1048576"><v>36</v></c>',
        "reference-wild": '<c r="ZZZZZ99999999"><v>36</v></c>',
        "reference-none": "<c><v>36</v></c>",
        "reference-twice": '<c r="C2"><v>36</v></c><c r="C2"><v>40</v></c>',
        "text-formula": '<c r="C2" t="inlineStr"><is><t>=HYPERLINK("x")</t></is></c>',
        "text-long": f'<c r="C2" t="inlineStr"><is><t>{"x" * 2_000_000}</t></is></c>',
        "text-bidi": '<c r="C2" t="inlineStr"><is><t>36\u202e in</t></is></c>',
        "text-control": '<c r="C2" t="inlineStr"><is><t>36&#1;</t></is></c>',
        "text-runs": '<c r="C2" t="inlineStr"><is><r><t>3</t></r><r><t>6</t></r></is></c>',
    }
