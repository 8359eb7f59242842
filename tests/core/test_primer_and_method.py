"""Primer under tape, and which method goes under which wall barrier.

The rules are common practice, no source: tape does not hold on the gypsum core at a cut edge, so tape on gypsum always
carries primer or a named reason; fluid-applied flashing goes under a fluid-applied barrier only.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.core.invented import (
    PRIMER,
    TAPE,
    amounts,
    bought,
    costed,
    edition,
    gallons,
    inches,
    lift,
    material,
    materials,
    opening,
    refusals,
    refused,
    request,
    without,
    work,
)

AREA = 1552  # in², of the plain window, d 6 and f 2


@pytest.mark.parametrize(("apply", "square_inches"), [({"apply": "edge"}, 192 * 1), ({"apply": "bonded_area"}, AREA)])
def test_primer_goes_on_the_edge_or_on_the_bonded_area(apply: dict[str, str], square_inches: int) -> None:
    """200 ft² a gallon."""
    row = material("primer", "primer", **PRIMER | apply)
    if apply["apply"] == "bonded_area":
        del row["edge_width"]
    estimate = costed(request(opening(quantity=3), method="tape"), without("primer", extra=(row,)))
    assert gallons(bought(estimate, "primer").net) == Fraction(3 * square_inches, 144 * 200)


def test_tape_takes_no_liquid_and_fluid_no_primer() -> None:
    assert [m.row.role for m in costed(request(opening(), method="tape")).parts[0].materials] == ["tape", "primer"]
    assert [m.row.role for m in costed(request(opening())).parts[0].materials] == ["liquid", "mesh"]


GYPSUM_ONLY = material("primer", "gypsum primer", **PRIMER, substrates=["gypsum_sheathing"])


@pytest.mark.parametrize(
    ("substrate", "primed"), [("gypsum_sheathing", True), (None, True), ("plywood", False), ("concrete", False)]
)
def test_a_primer_is_for_its_substrates_and_an_unknown_one_is_priced_as_gypsum(
    substrate: str | None, primed: bool
) -> None:
    document = request(opening(), method="tape", substrate=substrate)
    estimate = costed(document, without("primer", extra=(GYPSUM_ONLY,)))
    assert (work(estimate).primer is not None) == primed
    questions = [r.code for r in estimate.remarks if r.severity == "question"]
    assert ("substrate_unknown" in questions) == (substrate is None)


@pytest.mark.parametrize("substrate", ["gypsum_sheathing", None])
def test_tape_on_gypsum_without_primer_needs_a_reason(substrate: str | None) -> None:
    document = request(opening(), method="tape", substrate=substrate)
    assert refusals(document, without("primer")) == [("/tables/materials", "missing_role")]
    excused = costed(document | {"no_primer_reason": "a factory-sealed edge"}, without("primer"))
    assert work(excused).primer is None
    assert "a factory-sealed edge" in next(r.detail for r in excused.remarks if r.code == "no_primer")


def test_plywood_under_tape_needs_no_primer_row() -> None:
    estimate = costed(request(opening(), method="tape", substrate="plywood"), without("primer"))
    assert work(estimate).primer is None


def test_two_primers_for_one_substrate_need_a_choice() -> None:
    second = material("primer", "primer-2", **PRIMER)
    given = edition(materials=[*materials(), second])
    document = request(opening(), method="tape")
    assert refusals(document, given) == [("/materials/primer", "choose_row")]
    chosen = costed(document | {"materials": {"primer": "primer-2"}}, given)
    assert bought(chosen, "primer-2").net > 0


def test_fluid_under_a_sheet_barrier_is_refused_without_an_override() -> None:
    """Common practice, no source: fluid-applied flashing only under a fluid-applied barrier."""
    document = request(opening(), wall_barrier="sheet")
    assert refusals(document) == [("/openings/0/method", "method_against_barrier")]
    override = {"reason": "the designer's written order", "by": "an invented designer"}
    allowed = costed(document | {"method_override": override})
    assert "method_overridden" in [r.code for r in allowed.remarks if r.severity == "warning"]
    on_line = costed(request(opening(method_override=override), wall_barrier="sheet"))
    assert on_line.up.price_minor == allowed.up.price_minor


@pytest.mark.parametrize("barrier", ["fluid", "sheet", "none", None])
def test_tape_goes_under_any_barrier(barrier: str | None) -> None:
    assert costed(request(opening(), method="tape", wall_barrier=barrier)).up.price_minor > 0


def test_by_line_each_line_says_its_method() -> None:
    lines = (opening("A", method="fluid"), opening("B", method="tape"))
    estimate = costed(request(*lines, method="by_line"))
    assert [m.row.role for m in estimate.parts[0].materials] == ["liquid", "mesh", "tape", "primer"]
    assert refusals(request(opening("A"), method="by_line")) == [("/openings/0/method", "missing")]


def test_a_line_may_differ_from_the_request() -> None:
    """Its own depth, substrate, barrier and method; the request's are for lines that say nothing."""
    lines = (opening("A"), opening("B", treated_depth="8 in", method="tape", substrate="gypsum_sheathing"))
    estimate = costed(request(*lines), without("primer", extra=(GYPSUM_ONLY,)))
    assert inches(work(estimate, 1).depth) == 8
    assert work(estimate, 1).primer is not None


@pytest.mark.parametrize("role", ["liquid", "mesh"])
def test_a_role_that_the_work_needs_must_be_there(role: str) -> None:
    (problem,) = refused(request(opening()), without(role))
    assert (problem.pointer, problem.code, problem.document) == ("/tables/materials", "missing_role", "edition")
    assert role in problem.detail


def test_roles_that_the_work_does_not_need_may_be_missing() -> None:
    assert costed(request(opening()), without("tape", "primer")).up.price_minor > 0
    tape_only = without("liquid", "mesh", extra=(material("tape", "wider", **TAPE | {"width": "12 in"}),))
    assert amounts(costed(request(opening(), method="tape"), tape_only))[1][1] > 0


def test_a_depth_is_needed_but_for_pipes() -> None:
    """A pipe's return runs along the pipe."""
    document = request(opening("A"), opening("P", kind="pipe", diameter="4 in"), opening("L", access="lift"))
    del document["treated_depth"]
    given = edition(equipment=[lift()])
    assert refusals(document, given) == [
        ("/openings/0/treated_depth", "missing"),
        ("/openings/2/treated_depth", "missing"),
    ]
    assert costed(document | {"openings": document["openings"][1:2]}).openings == 1
