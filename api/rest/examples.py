"""Examples of requests and their answers, as the tests send and get them: examples.json is written by the tests."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

Json = dict[str, Any]
STORED = Path(__file__).with_name("examples.json")


@cache
def examples() -> Json:
    """The example of each operation: path, query, fields, body, status, answer, and its lines for a shell."""
    found: Json = json.loads(STORED.read_bytes())
    return found


def put_examples(operation: Json) -> None:
    """Puts the example of an operation where the description has room for its parts."""
    example = examples().get(operation["operationId"])
    if example is None:
        return
    given = {"path": example["path"], "query": example["query"], "header": example["fields"]}
    for parameter in operation["parameters"]:
        value = given[parameter["in"]].get(parameter["name"])
        if value is not None:
            parameter["example"] = as_typed(value, parameter["schema"])
    if "body" in example:
        media = example["fields"].get("Content-Type", "application/json")
        operation["requestBody"]["content"][media]["example"] = example["body"]
    if "answer" in example:
        operation["responses"][str(example["status"])]["content"]["application/json"]["example"] = example["answer"]


def as_typed(value: str, schema: Json) -> Any:
    """A value of a query as its schema has it."""
    kinds = schema.get("type", "string")
    if "integer" in kinds and value.isdigit():
        return int(value)
    return value == "true" if "boolean" in kinds and value in ("true", "false") else value
