"""Cautions fit the work: each by a job that has it and the plain one that has not; who governs always stands."""

from __future__ import annotations

from typing import Any

import pytest

from estimating.outputs.cautions import ALWAYS, FITTING, cautions
from tests.core.invented import Document, costed, edition, lift, opening, production, request

LOW: Document = {"height_above_grade": "0 in", "height": "24 in", "width": "24 in"}
TAPED = {"method": "tape", "wall_barrier": "sheet"}
TEMPERATURES = {"temperature": {"cold": "1.2", "hot": "1.1", "mild": "1"}}


def told(rows: list[Document] | None = None, table: Document | None = None, **fields: Any) -> list[str]:
    """The first words of the cautions of a job that is low, from the ground, on plywood and by fluid unless told."""
    given = fields.pop("opening", {})
    document = request(opening(**(LOW | given)), **fields)
    found = cautions(costed(document, edition(equipment=rows or [], production=production(**(table or {})))))
    assert (found[0], found[-1]) == ALWAYS
    return [sentence.partition(":")[0] for sentence in found[1:-1]]


def test_a_low_job_by_fluid_has_what_fluid_needs() -> None:
    fluids, surfaces = told()
    assert fluids == "Fluids and sealants" and surfaces.startswith("Surfaces dry, free of frost")
    assert told(opening={"height_above_grade": "5 ft"}) == [fluids, surfaces]


@pytest.mark.parametrize(
    ("words", "fields"),
    [
        ("Working at height", {"opening": {"height_above_grade": "6 ft"}}),
        ("Working at height", {"opening": {"height_above_grade": None, "storey": "3"}}),
        ("Working at height", {"opening": {"access": None}}),
        ("Ladders", {"opening": {"access": "step_ladder"}}),
        ("Scaffolds", {"opening": {"access": "frame_scaffold"}}),
        ("Lifts", {"opening": {"access": "lift"}, "rows": [lift()]}),
        ("Swing stages", {"opening": {"access": "swing_stage"}}),
        ("Primers", TAPED),
        ("Cutting or drilling cement board, block or concrete raises silica dust", {"substrate": "cement_board"}),
        ("Cold", {"temperature": "cold", "table": TEMPERATURES}),
        ("Heat", {"temperature": "hot", "table": TEMPERATURES}),
    ],
)
def test_a_caution_stands_where_it_fits(words: str, fields: dict[str, Any]) -> None:
    assert words in told(**fields)
    assert words not in told()


def test_mild_weather_is_neither_cold_nor_hot() -> None:
    assert told(temperature="mild", table=TEMPERATURES) == told()


def test_every_caution_has_a_case_and_defers() -> None:
    assert len(FITTING) == 11
    assert "licensed design professional" in ALWAYS[0] and "local code" in ALWAYS[0] and "data sheet" in ALWAYS[0]


def test_nothing_priced_keeps_what_always_stands() -> None:
    assert cautions(costed(request(opening(quantity=0)))) == list(ALWAYS)
