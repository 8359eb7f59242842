"""Random damage to sound files: always costed or refused with places, never anything else."""

from __future__ import annotations

import copy
import json
import tempfile
from pathlib import Path
from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.intake.job_files import FilesRefused, open_job
from estimating.outputs.printed_json import print_json, whole_document
from estimating.outputs.report import Heading, report
from tests.core.command_line import ROOT

DATA = ROOT / "tests" / "data"
DEMO = ROOT / "estimating" / "demo"
PAIRS = (
    (DATA / "golden" / "request.json", DATA / "golden" / "edition.json"),
    (DATA / "schedules" / "duplex.csv", DEMO / "rates.json"),
    (DEMO / "clinic-a.csv", DEMO / "rates.json"),
    (DEMO / "clinic-b.json", DEMO / "rates.json"),
)
VALUES: tuple[Any, ...] = (
    *(None, True, 0, -1, 1, 10**9, [], {}, ["sill"], {"a": 1}),
    *("", "-0", "1", "100", "1e5", "NaN", "48 in", "0 in", "6'-8\"", "20 mil", "1 gal", "5 ft", "1 each", "2026-01-01"),
    *("tape", "sheet", "none", "by_line", "pipe", "round", "A", "x" * 300, "\u202e", "JPY", "KWD", "half_even"),
)
BYTES = (b'"', b",", b"\n", b"\r", b"\0", b"\xff", b"0", b"-", b"e", b"{", b"]", b";", "½".encode(), b"9" * 30)
Way = tuple[str | int, ...]


def paths(value: Any, path: Way = ()) -> list[Way]:
    """The path of every value inside a document."""
    members = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [found for name, item in members for found in [(*path, name), *paths(item, (*path, name))]]


def damage_document(data: bytes, chance: Random) -> bytes:
    """A JSON document with a few values taken away, doubled or replaced."""
    document = json.loads(data)
    for _ in range(chance.choice((1, 1, 2, 4))):
        everywhere = paths(document)
        if not everywhere:
            break
        *way, last = chance.choice(everywhere)
        inner = document
        for step in way:
            inner = inner[step]
        if chance.random() < 0.2:
            del inner[last]
        elif isinstance(inner, list) and chance.random() < 0.2:
            inner.append(copy.deepcopy(inner[last]))  # type: ignore[index]
        else:
            inner[last] = chance.choice(VALUES)
    return json.dumps(document).encode()


def damage_bytes(data: bytes, chance: Random) -> bytes:
    """A text with a few bytes taken away or put in."""
    made = bytearray(data)
    for _ in range(chance.choice((1, 2, 5))):
        at = chance.randrange(len(made) + 1)
        if chance.random() < 0.3:
            del made[at : at + chance.choice((1, 3, 20))]
        else:
            made[at:at] = chance.choice(BYTES)
    return bytes(made)


def damaged(path: Path, chance: Random) -> bytes:
    """A file's bytes after damage."""
    data = path.read_bytes()
    return (
        damage_document(data, chance)
        if path.suffix == ".json" and chance.random() < 0.7
        else damage_bytes(data, chance)
    )


@settings(max_examples=150)
@given(chance=st.randoms(use_true_random=False))
def test_damaged_files_are_costed_or_refused_with_places(chance: Random) -> None:
    sound = chance.choice(PAIRS)
    hit = chance.randrange(2)
    contents = [damaged(path, chance) if place == hit else path.read_bytes() for place, path in enumerate(sound)]
    with tempfile.TemporaryDirectory() as folder:
        files = [Path(folder) / path.name for path in sound]
        for file, content in zip(files, contents, strict=True):
            file.write_bytes(content)
        try:
            estimate = open_job(str(files[0]), None, [str(files[1])]).cost()
        except FilesRefused as refused:
            assert refused.faults
            for fault in refused.faults:
                assert fault.problem.line and fault.problem.column and fault.problem.code and str(fault)
            return
    price = estimate.up.price_minor
    assert sum(line.amount_minor for line in estimate.up.lines) == price
    assert sum(mark.price_minor for mark in estimate.allocation.marks) == price
    assert max(len(line) for line in report(estimate, Heading("damaged")).splitlines()) <= 80
    assert json.loads(print_json(whole_document(estimate)))["totals"]["openings"] == estimate.openings
