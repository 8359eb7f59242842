"""The description as a page to read: every operation with what goes in and comes out, every document, every problem."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from django.utils.html import escape

from api.errors import KINDS

Json = Mapping[str, Any]
MOST_LEVELS = 4  # of objects inside objects in one table of fields
STYLE = """
body{font:1rem/1.5 system-ui,sans-serif;margin:2rem auto;max-width:60rem;padding:0 1rem;color:#1a1a1a;background:#fff}
h2{margin-top:2.5rem;border-top:1px solid #999}code,pre{font-family:ui-monospace,monospace;font-size:.9em}
table{border-collapse:collapse;width:100%;display:block;overflow-x:auto}
td,th{text-align:left;vertical-align:top;padding:.25rem .75rem .25rem 0}p,h2,td,li{overflow-wrap:anywhere}
nav ul{padding-left:1.2rem}
"""


def write_page(document: Json) -> str:
    """The whole page, with nothing from any other host."""
    parts = [f"<h1>{escape(document['info']['title'])}</h1>", f"<p>{escape(document['info']['description'])}</p>"]
    parts.append('<p>The whole description: <a href="/v1/openapi.json">OpenAPI 3.1</a>.</p>')
    parts.append(write_contents(document["paths"]))
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            parts.append(write_operation(path, method, operation))
    parts.append('<h2 id="documents">Documents</h2>')
    for name, schema in document["components"]["schemas"].items():
        what = f"<p>{marked(schema['description'])}" if "description" in schema else ""
        parts.append(f'<h3 id="document-{escape(name)}">{escape(name)}</h3>{what}{table_of(schema)}')
    parts.append('<h2 id="problems">Problems</h2><table><tr><th>type<th>status<th>title')
    for code, (status, title) in KINDS.items():
        parts.append(f'<tr id="problem-{code}"><td><code>{code}</code><td>{status}<td>{escape(title)}')
    parts.append("</table>")
    head = '<meta charset=utf-8><meta name=viewport content="width=device-width"><title>API</title>'
    return f"<!doctype html><html lang=en>{head}<style>{STYLE}</style><main>{''.join(parts)}</main>"


def write_contents(paths: Mapping[str, Json]) -> str:
    """A link to every operation, by subject: the first word of the address."""
    subjects: dict[str, list[str]] = {}
    for path, methods in paths.items():
        for method, operation in methods.items():
            link = f'<a href="#{operation["operationId"]}"><code>{method.upper()} {escape(path)}</code></a>'
            subjects.setdefault(path.split("/")[2], []).append(f"<li>{link} {marked(operation['summary'])}")
    lists = (f"<h3>{escape(name.replace('-', ' '))}</h3><ul>{''.join(links)}</ul>" for name, links in subjects.items())
    ends = '<p><a href="#documents">Documents</a>, <a href="#problems">problems</a>.'
    return f"<nav aria-label=Contents>{''.join(lists)}{ends}</nav>"


def marked(text: str) -> str:
    """The text with what stands between backticks as code."""
    parts = escape(text).split("`")
    return "".join(f"<code>{part}</code>" if i % 2 else part for i, part in enumerate(parts))


def write_operation(path: str, method: str, operation: Json) -> str:
    """One operation as a section."""
    head = f"<code>{method.upper()} {escape(path)}</code>"
    parts = [f'<h2 id="{operation["operationId"]}">{head}</h2><p>{marked(operation["summary"])}.']
    if rows := [
        f"<tr><td><code>{escape(p['name'])}</code><td>{p['in']}<td>{'needed' if p['required'] else ''}"
        f"<td>{marked(p.get('description', ''))}"
        for p in operation.get("parameters", ())
    ]:
        parts.append(f"<table><tr><th>name<th>in<th><th>what{''.join(rows)}</table>")
    for media, content in operation.get("requestBody", {}).get("content", {}).items():
        parts.append(f"<p>Content as <code>{media}</code>: {kind(content['schema'])}{table_of(content['schema'])}")
    parts.append(f"<p>{'; '.join(write_answer(*answer) for answer in operation['responses'].items())}")
    return "".join(parts)


def write_answer(status: str, answer: Json) -> str:
    """One answer: its status, what it says, that of a shared problem too, and its documents."""
    if "$ref" in answer:
        code = answer["$ref"].rpartition("/")[2]
        return f'{status} <a href="#problem-{code}">{escape(KINDS[code][1])}</a>'
    documents = sorted({kind(content["schema"]) for content in answer.get("content", {}).values()} - {"text", ""})
    return f"{status} {escape(answer['description'])}{': ' if documents else ''}{', '.join(documents)}"


def table_of(schema: Json) -> str:
    """The fields of an object as a table; nothing for what has none."""
    rows = [
        f"<tr><td><code>{escape(name)}</code><td>{what}<td>{'needed' if needed else ''}<td>{marked(doc)}"
        for name, what, needed, doc in fields(schema)
    ]
    return f"<table><tr><th>field<th>kind<th><th>what{''.join(rows)}</table>" if rows else ""


def fields(schema: Json, prefix: str = "", level: int = 1) -> Iterator[tuple[str, str, bool, str]]:
    """(name, kind, needed, description) of every field; those of objects inside with the names before them."""
    needed = schema.get("required", ())
    for choice in schema.get("oneOf", schema.get("anyOf", ())):
        yield from fields(choice, prefix, level)
    if prefix == "" and isinstance(schema.get("items"), Mapping):
        yield from fields(schema["items"], "[].", level)
    for name, part in schema.get("properties", {}).items():
        yield f"{prefix}{name}", kind(part), name in needed, part.get("description", "")
        inner, mark = (part["items"], "[]") if isinstance(part.get("items"), Mapping) else (part, "")
        if level < MOST_LEVELS:
            yield from fields(inner, f"{prefix}{name}{mark}.", level + 1)


def kind(schema: Json) -> str:
    """What a value is, in a word or two; a document of its own as a link."""
    if "$ref" in schema:
        name = escape(schema["$ref"].rpartition("/")[2])
        return f'<a href="#document-{name}">{name}</a>'
    if choices := schema.get("oneOf", schema.get("anyOf")):
        return " or ".join(dict.fromkeys(kind(choice) for choice in choices))
    if "enum" in schema:
        return escape(", ".join(str(value) for value in schema["enum"] if value is not None))
    if isinstance(schema.get("items"), Mapping):
        return f"list of {kind(schema['items'])}"
    if set(schema.get("properties", ())) >= {"items", "next"}:
        return f"page of {kind(schema['properties']['items']['items'])}"
    kinds = schema.get("type", "")
    words = [kinds] if isinstance(kinds, str) else [word for word in kinds if word != "null"]
    plain = {"string": schema.get("format", "text")}
    return escape(" or ".join(plain.get(word, word) for word in words))
