"""Schemas as tables to read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from django.utils.html import escape

Json = Mapping[str, Any]
PLAIN = {"string": "text", "integer": "whole number", "boolean": "true or false"}


def marked(text: str) -> str:
    """The text with what stands between backticks as code."""
    parts = escape(text).split("`")
    return "".join(f"<code>{part}</code>" if i % 2 else part for i, part in enumerate(parts))


def table(caption: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A table whose rows are headed by their first cells."""
    head = "".join(f'<th scope="col">{escape(text)}</th>' for text in heads)
    body = "".join(
        f'<tr><th scope="row">{first}</th>{"".join(f"<td>{cell}</td>" for cell in rest)}</tr>' for first, *rest in rows
    )
    told = f"<caption>{escape(caption)}</caption>"
    return f'<table class="fields">{told}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>'


def table_of(schema: Json, caption: str) -> str:
    """The fields of an object as a table; nothing for what has none."""
    rows = [
        [f"<code>{escape(name)}</code>", what, "yes" if needed else "no", marked(doc)]
        for name, what, needed, doc in fields(schema)
    ]
    return table(caption, ["field", "kind", "needed", "what it is"], rows) if rows else ""


def fields(schema: Json) -> Iterator[tuple[str, str, bool, str]]:
    """(name, kind, needed, description) of every field."""
    needed = schema.get("required", ())
    for name, part in schema.get("properties", {}).items():
        yield name, kind(part), name in needed, part.get("description", "")


def write_document(name: str, schema: Json) -> str:
    """One named schema."""
    parts = [f'<h3 id="document-{escape(name)}">{escape(name)}</h3>']
    if "description" in schema:
        parts.append(f"<p>{marked(schema['description'])}</p>")
    if "properties" not in schema:
        parts.append(f"<p>{kind(schema)}</p>")
    return "".join([*parts, table_of(schema, f"Fields of {name}")])


def kind(schema: Json) -> str:
    """What a value is, in a word or two; a document of its own as a link."""
    if "$ref" in schema:
        name = escape(schema["$ref"].rpartition("/")[2])
        return f'<a href="#document-{name}">{name}</a>'
    if choices := schema.get("oneOf", schema.get("anyOf")):
        return " or ".join(dict.fromkeys(kind(choice) for choice in choices))
    if "enum" in schema:
        return ", ".join(f"<code>{escape(str(value))}</code>" for value in schema["enum"])
    if "const" in schema:
        return f"<code>{escape(schema['const'])}</code>"
    if isinstance(schema.get("items"), Mapping):
        return f"list of {kind(schema['items'])}"
    if isinstance(schema.get("additionalProperties"), Mapping):
        return f"by name: {kind(schema['additionalProperties'])}"
    kinds = schema.get("type", "anything")
    words = [kinds] if isinstance(kinds, str) else kinds
    if schema.get("format") == "binary":
        return "bytes"
    plain = PLAIN | ({"string": schema["format"]} if "format" in schema else {})
    return escape(" or ".join(plain.get(word, word) for word in words))
