"""Generators of others make complete clients from the description: openapi-python-client and openapi-typescript.

Complete: every operation of the description, every success answer that has content typed, no warning.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from estimating.core.kind_reading import DIMENSIONS
from tests.clients.generated import (
    DESCRIPTION,
    HERE,
    count_python,
    count_typescript,
    described,
    make_python,
    make_typescript,
    python_operation,
    run_node,
)


def test_the_python_client_has_every_operation_and_every_success_answer_typed(tmp_path: Path) -> None:
    counted, wanted = count_python(make_python(tmp_path)), described()
    assert set(counted) == {python_operation(name) for name in wanted}
    for name, answers in wanted.items():
        assert set(counted[python_operation(name)]) == set(answers), name


def test_the_typescript_client_has_every_operation_and_every_success_answer_typed(tmp_path: Path) -> None:
    counted, wanted = count_typescript(make_typescript(tmp_path)), described()
    assert {name: set(answers) for name, answers in counted.items()} == {n: set(a) for n, a in wanted.items()}


def test_the_typescript_client_compiles_a_literal_of_every_shape_of_opening(tmp_path: Path) -> None:
    make_typescript(tmp_path)
    shutil.copy(HERE / "shapes.ts", tmp_path)
    literals = (HERE / "shapes.ts").read_text()
    assert all(f'shape: "{shape}"' in literals for shape in DIMENSIONS)
    run_node("node_modules/typescript/bin/tsc", "--strict", "--noEmit", str(tmp_path / "shapes.ts"))


def test_enumerations_are_named_once_and_nothing_inline_is_left() -> None:
    document = json.loads(DESCRIPTION.read_text())
    schemas = document["components"]["schemas"]
    words = [tuple(sorted(schema["enum"])) for schema in schemas.values() if "enum" in schema]
    assert len(set(words)) == len(words)

    def inline(part: object, at: str) -> list[str]:
        if isinstance(part, list):
            return [found for i, one in enumerate(part) for found in inline(one, f"{at}/{i}")]
        if not isinstance(part, dict):
            return []
        here = [at] if "enum" in part or part.get("type") == "object" or part == {"type": "array"} else []
        return here + [found for name, one in part.items() for found in inline(one, f"{at}/{name}")]

    parts = [(f"{name}/{key}", one) for name, schema in schemas.items() for key, one in schema.items()]
    answers = [(f"{path} {m}", o) for path, ms in document["paths"].items() for m, o in ms.items()]
    bare = [(at, {k: v for k, v in one.items() if k != "examples"}) for at, one in answers]
    found = [
        place for at, one in parts if isinstance(one, dict | list) and "enum" not in at for place in inline(one, at)
    ]
    assert [place for place in found if not place.endswith("/properties")] == []
    assert [place for at, one in bare for place in inline(one, at)] == []
