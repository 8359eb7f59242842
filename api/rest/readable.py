"""The description as a page to read: who may call what, every operation with an example that runs, every document."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from django.utils.html import escape

from api.errors import KINDS
from api.rest.examples import examples
from api.rest.readable_schemas import kind, marked, table, table_of, write_document
from rates.documents import write_json
from rates.roles import SCOPES, SCOPES_OF, roles_with

Json = Mapping[str, Any]
FIRST_LINES = r"""export BASE=http://127.0.0.1:8000
export KEY=your-access-key
export APPROVER_KEY=the-key-of-who-approves
pick() {  # one value of a JSON document, by names and places
  python3 -c 'import functools, json, sys
print(functools.reduce(lambda d, k: d[int(k)] if k.isdigit() else d[k], sys.argv[1:], json.load(sys.stdin)))' "$@"
}
tag() { sed -n 's/^[Ee][Tt]ag: *//p' | tr -d '\r'; }"""
OWN = {
    "BASE": ("address of the service", "url"),
    "KEY": ("access key", "password"),
    "APPROVER_KEY": ("access key of somebody else, who approves", "password"),
}


def write_page(document: Json) -> str:
    """The whole page, with nothing from any other host."""
    info = document["info"]
    head = (
        '<meta charset="utf-8"><meta name="viewport" content="width=device-width">'
        f'<title>{escape(info["title"])}: the API</title><link rel="stylesheet" href="/v1/docs.css">'
    )
    parts = [f"<h1>{escape(info['title'])}</h1><p>{marked(info['description'])}</p>"]
    parts.append('<p>The whole description: <a href="/v1/openapi.json">OpenAPI 3.1</a>.</p>')
    main = [*write_start(), *write_roles(), *write_operations(document), *write_documents(document), *write_problems()]
    body = f"<header>{''.join(parts)}</header>{write_contents(document)}<main>{''.join(main)}</main>"
    script = '<script src="/v1/docs.js"></script>'
    return f'<!doctype html><html lang="en"><head>{head}</head><body>{body}{script}</body></html>'


def by_tag(document: Json) -> dict[str, list[tuple[str, str, Json]]]:
    """The operations as (method, address, operation), by tag."""
    found: dict[str, list[tuple[str, str, Json]]] = {tag["name"]: [] for tag in document["tags"]}
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            found[operation["tags"][0]].append((method.upper(), path, operation))
    return found


def write_contents(document: Json) -> str:
    """A link to every part."""
    parts = ['<nav aria-labelledby="contents"><h2 id="contents">Contents</h2><ul>']
    parts.append('<li><a href="#start">Before the examples</a><li><a href="#roles">Who may call what</a>')
    for tag, operations in by_tag(document).items():
        links = "".join(
            f'<li><a href="#{operation["operationId"]}"><code>{method} {escape(path)}</code></a> '
            f"{marked(operation['summary'])}</li>"
            for method, path, operation in operations
        )
        parts.append(f'<li><a href="#tag-{tag}">{tag.capitalize()}</a><ul>{links}</ul></li>')
    parts.append('<li><a href="#documents">Documents</a><li><a href="#problems">Problems</a></ul></nav>')
    return "".join(parts)


def write_start() -> Iterator[str]:
    """What the examples begin with, and fields for the reader's own values."""
    yield '<h2 id="start">Before the examples</h2>'
    yield (
        "<p>Put your own access key into the first lines and run them in a shell once; each example below then runs as "
        "it stands (it needs curl and python3). Examples that change something do so in your company: try them with "
        "the demo's keys first. What an example needs, it makes or looks up, in the lines before the last request.</p>"
    )
    yield '<form id="own-values" hidden>'
    for variable, (about, type) in OWN.items():
        yield f'<label>{escape(about)} <input type="{type}" data-variable="{variable}" autocomplete="off"></label>'
    yield "</form><p>The fields fill in the lines below; they are sent nowhere.</p>"
    yield f'<pre id="first-lines">{escape(FIRST_LINES)}</pre>'


def write_roles() -> Iterator[str]:
    """Which scopes each role has."""
    yield '<h2 id="roles">Who may call what</h2>'
    yield (
        "<p>An operation needs a scope. A session has those of its member’s role; an access key has those that it was "
        "made with, as far as its member’s role has them.</p>"
    )
    heads = ["scope", "what for", *(role.label for role in SCOPES_OF)]
    rows = [
        [f"<code>{scope}</code>", escape(about), *("yes" if scope in given else "no" for given in SCOPES_OF.values())]
        for scope, about in SCOPES.items()
    ]
    yield table("Scopes by role", heads, rows)


def write_operations(document: Json) -> Iterator[str]:
    """Every operation, by tag."""
    about = {tag["name"]: tag["description"] for tag in document["tags"]}
    for tag, operations in by_tag(document).items():
        yield f'<h2 id="tag-{tag}">{tag.capitalize()}</h2><p>{escape(about[tag])}.</p>'
        for method, path, operation in operations:
            yield from write_operation(method, path, operation, document["components"]["schemas"])


def write_operation(method: str, path: str, operation: Json, schemas: Json) -> Iterator[str]:
    """One operation as a section."""
    name, scope = operation["operationId"], operation.get("x-scope", "")
    yield f'<h3 id="{name}"><code>{method} {escape(path)}</code></h3><p>{marked(operation["summary"])}.</p>'
    who = f"scope <code>{scope}</code>: {escape(roles_with(scope))}" if scope else "anybody, without a key"
    yield f"<p>May be called by {who}.</p>"
    if rows := [parameter_row(parameter) for parameter in operation["parameters"]]:
        yield table(f"Address and header fields of {name}", ["name", "in", "needed", "what it is"], rows)
    for media, content in operation.get("requestBody", {}).get("content", {}).items():
        what = content["schema"]
        inside = schemas[what["$ref"].rpartition("/")[2]] if "$ref" in what else what
        yield f"<p>Content as <code>{media}</code>: {kind(what)}</p>"
        if media == "application/json":
            yield table_of(inside, f"Content of {name}")
    yield f"<p>Answers: {'; '.join(write_answer(*answer) for answer in operation['responses'].items())}.</p>"
    yield from write_example(name)


def parameter_row(parameter: Json) -> list[str]:
    """What goes into the address or a header field."""
    needed = "yes" if parameter["required"] else "no"
    return [
        f"<code>{escape(parameter['name'])}</code>", parameter["in"], needed, marked(parameter.get("description", "")),
    ]  # fmt: skip


def write_example(name: str) -> Iterator[str]:
    """The example of an operation: the lines of a shell, and what they answer."""
    example = examples().get(name)
    if example is None:
        return
    yield f'<h4>Example</h4><pre data-example="{name}">{escape(example["shell"])}</pre>'
    if "answer" in example:
        answer = escape(write_json(example["answer"]).decode())
        yield f"<details><summary>It answers {example['status']}</summary><pre>{answer}</pre></details>"
    else:
        yield f"<p>It answers {example['status']}.</p>"


def write_answer(status: str, answer: Json) -> str:
    """One answer: its status, what it says, that of a shared problem too, and its documents."""
    if "$ref" in answer:
        code = answer["$ref"].rpartition("/")[2]
        return f'{status} <a href="#problem-{code}">{escape(KINDS[code][1])}</a>'
    documents = sorted(
        {kind(content["schema"]) for content in answer.get("content", {}).values()} - {"text", "bytes", ""}
    )
    return f"{status} {escape(answer['description'])}{': ' if documents else ''}{', '.join(documents)}"


def write_documents(document: Json) -> Iterator[str]:
    """Every named schema."""
    yield '<h2 id="documents">Documents</h2>'
    for name, schema in document["components"]["schemas"].items():
        yield write_document(name, schema)


def write_problems() -> Iterator[str]:
    """Every kind of problem."""
    yield '<h2 id="problems">Problems</h2>'
    rows = [[f'<code id="problem-{code}">{code}</code>', str(s), escape(title)] for code, (s, title) in KINDS.items()]
    yield table("Kinds of problem", ["kind", "status", "title"], rows)
