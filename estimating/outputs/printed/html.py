"""A document as one HTML page: nothing from elsewhere, no script, every text escaped, tables with headings."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from html import escape
from typing import Any

from estimating.outputs.printed.blocks import Bullets, Column, Document, Facts, Figure, Heading, NewPage, Table, Text

STYLE = (
    "body{font:1rem/1.45 serif;max-width:48rem;margin:2rem auto;padding:0 1rem;color:#111;background:#fff}"
    "table{border-collapse:collapse;width:100%;margin:.5rem 0 1rem}caption{text-align:left;font-weight:bold}"
    "th,td{border-bottom:1px solid #777;padding:.2rem .4rem;text-align:left;vertical-align:top}"
    "tbody th{font-weight:normal;overflow-wrap:anywhere;min-width:10ch}"
    ".figure{text-align:right}dt{font-weight:bold}dl{display:grid;grid-template-columns:max-content 1fr;gap:.2rem 1rem}"
    "dd{margin:0;overflow-wrap:anywhere}.mark{border:2px solid;padding:.4rem;font-weight:bold;text-align:center}"
    "svg{max-width:100%;height:auto}footer{margin-top:2rem;font-size:.85rem}"
    "@media(max-width:30rem){body{padding:0 .5rem}table{font-size:.8125rem}th,td{padding:.2rem}tbody th{min-width:5ch}"
    "ul{padding-left:1.2rem}}"
)


def write_html(document: Document) -> bytes:
    """The page; the same document gives the same bytes."""
    mark = f'<p class="mark">{escape(document.mark)}</p>' if document.mark else ""
    head = "<br>".join(escape(line) for line in document.head)
    body = "".join(WRITERS[type(block)](block) for block in document.blocks)
    page = (
        f'<!doctype html><html lang="{escape(document.language)}"><head><meta charset="utf-8">'
        f'<meta name="viewport" content="width=device-width"><title>{escape(document.title)}</title>'
        f'<meta name="author" content="{escape(document.author)}"><style>{STYLE}</style></head><body>'
        f"<header>{f'<p>{head}</p>' if head else ''}</header><main><h1>{escape(document.title)}</h1>{mark}{body}</main>"
        f"<footer>{escape(document.foot)}</footer></body></html>"
    )
    return page.encode()


def write_heading(block: Heading) -> str:
    level = block.level + 1
    return f"<h{level}>{escape(block.text)}</h{level}>"


def write_text(block: Text) -> str:
    words = escape(block.text).replace("\n", "<br>")
    return f"<p>{f'<strong>{words}</strong>' if block.strong else words}</p>"


def write_bullets(block: Bullets) -> str:
    return f"<ul>{''.join(f'<li>{escape(item)}</li>' for item in block.items)}</ul>"


def write_facts(block: Facts) -> str:
    rows = (f"<dt>{escape(name)}</dt><dd>{write_lines(value)}</dd>" for name, value in block.rows)
    return f"<dl>{''.join(rows)}</dl>"


def write_lines(text: str) -> str:
    """A text with its line breaks."""
    return "<br>".join(escape(line) for line in text.splitlines())


def write_table(block: Table) -> str:
    """A table; the first cell of a row heads it."""
    heads = "".join(f'<th scope="col"{figures(column)}>{escape(column.title)}</th>' for column in block.columns)
    rows = "".join(write_row(block.columns, row) for row in block.rows)
    last = f"<tfoot>{write_row(block.columns, block.last)}</tfoot>" if block.last else ""
    caption = f"<caption>{escape(block.caption)}</caption>"
    return f"<table>{caption}<thead><tr>{heads}</tr></thead><tbody>{rows}</tbody>{last}</table>"


def figures(column: Column) -> str:
    """How a column of figures is told."""
    return ' class="figure"' if column.figures else ""


def write_row(columns: Iterable[Column], row: Iterable[str]) -> str:
    """One row of a table."""
    cells = []
    for place, (column, value) in enumerate(zip(columns, row, strict=True)):
        tag, scope = ("td", "") if place else ("th", ' scope="row"')
        cells.append(f"<{tag}{scope}{figures(column)}>{escape(value)}</{tag}>")
    return f"<tr>{''.join(cells)}</tr>"


def write_figure(block: Figure) -> str:
    """A picture of ours with its table; the picture tells its own title and words."""
    return f"<figure>{block.svg}<figcaption>{escape(block.words)}</figcaption></figure>{write_table(block.table)}"


WRITERS: Mapping[Any, Callable[[Any], str]] = {
    Heading: write_heading,
    Text: write_text,
    Bullets: write_bullets,
    Facts: write_facts,
    Table: write_table,
    Figure: write_figure,
    NewPage: lambda block: "<hr>",
}
