"""The input digest ignores how a value is spelt and changes with every value that decides; metric costs the same.

The documents are those of the worked golden case and of small invented ones.
"""

from __future__ import annotations

import json
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.core.digest import canonical
from estimating.core.job import cost_request, read_request
from rates.core.jsontext import read_json
from tests.core.invented import (
    Document,
    built,
    edition,
    lift,
    mark_prices,
    material,
    opening,
    overhead,
    production,
    request,
    rod,
    seal_materials,
    sources,
    worker,
)
from tests.core.random_estimates import random_case

CASE = Path(__file__).parents[1] / "data" / "golden"


def digest(document: Document, *editions: Document) -> str:
    """The digest of a request under these editions."""
    return read_request(document, sources(*editions)).input_digest


def base_edition() -> Document:
    """An edition with something in every table."""
    return edition(
        labour=[worker(fringe="9.50", burden=[{"title": "taxes", "percent": "28", "on": "wage"}])],
        materials=[*seal_materials(), rod("1 in"), material("consumable", "c", per="opening", packs=[EACH])],
        equipment=[lift(delivery="35", per_workers=2)],
        production=production(
            access={"lift": "1.2"},
            temperature={"hot": "1.1", "cold": "1.2"},
            congestion={"tight": "1.1"},
            rework={"some": "1.1"},
            sheathing_joint={"width": "4 in"},
            learning={"model": "exponential", "first": "1.8", "tau": "10"},
            setup_hours={"mobilisation": "2"},
            pair={"factor": "0.95"},
            geometry={"face_lap": "2 in"},
        ),
        overheads=[
            overhead("overhead", percent="12", on="direct_cost"),
            overhead("bond", tiers=[{"up_to": None, "percent": "1.5"}], on="price"),
        ],
    )


EACH = {"size": "1 each", "price": "1.75"}


def base_request() -> Document:
    """A request for two marks."""
    return request(opening("A", 10, elevation="North"), opening("B", 4, width="72 in", height="60 in", access="lift"))


def put(document: Document, path: str, value: Any) -> Document:
    """A copy with one value set, or taken out where it is None; the path is /-separated."""
    changed = deepcopy(document)
    *way, last = (int(p) if p.isdigit() else p for p in path.split("/"))
    place: Any = changed
    for step in way:
        place = place[step]
    if value is None:
        del place[last]
    else:
        place[last] = value
    return changed


SPELT: list[tuple[str, Any]] = [
    ("openings/0/width", "4'-0\""),
    ("openings/0/width", "48.0 in"),
    ("openings/0/width", "1219.2 mm"),
    ("openings/0/width", "1.2192 m"),
    ("openings/0/width", "4 ft"),
    ("openings/0/width", "48 0/4 in"),
    ("openings/0/quantity", "10"),
    ("openings/0/quantity", "10.0"),
    ("openings/0/kind", "window"),
    ("openings/0/shape", "rectangle"),
    ("openings/0/sides", ["head", "sill", "jambs"]),
    ("openings/0/sides", "all"),
    ("openings/0/access", " Ground "),
    ("openings/0/elevation", " North "),
    ("openings/0/note", "seen on sheet 4"),
    ("treated_depth", "152.4 mm"),
    ("treated_depth", "0'-6\""),
    ("units", "imperial"),
    ("mobilisations", 1),
    ("mobilisations", "1"),
    ("allocate_by", "own_use"),
    ("crew/experience", "experienced"),
    ("crew/crews", 1),
    ("materials", {}),
    ("title", "an invented title"),
]


@pytest.mark.parametrize(("path", "value"), SPELT)
def test_another_spelling_of_the_same_request_has_the_same_digest(path: str, value: Any) -> None:
    """Lengths, numbers, defaults written out, and what is only said."""
    assert digest(put(base_request(), path, value), base_edition()) == digest(base_request(), base_edition())


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("tables/labour/0/wage", "60.00"),
        ("tables/labour/0/wage", 60),
        ("tables/labour/0/overtime_multiplier", "1.5"),
        ("tables/labour/0/burden/0/percent", "28.000"),
        ("tables/labour/0/note", "from the agreement"),
        ("tables/labour/0/source", "page 3"),
        ("tables/materials/1/width", "228.6 mm"),
        ("tables/materials/1/packs/0/price", "60.0"),
        ("tables/materials/1/taxable", True),
        ("tables/materials/1/waste", {"kind": "added", "percent": "0"}),
        ("tables/production/geometry", {"tape_lap": "2 in"}),
        ("tables/production/hours_per_day", "8.0"),
        ("rounding", "half_up"),
        ("note", "another note"),
    ],
)
def test_another_spelling_of_the_same_edition_has_the_same_digest(path: str, value: Any) -> None:
    assert digest(base_request(), put(base_edition(), path, value)) == digest(base_request(), base_edition())


def test_the_order_of_names_and_a_bare_number_in_a_declared_unit_do_not_matter() -> None:
    document = base_request()
    turned = dict(reversed(document.items())) | {"openings": [dict(reversed(x.items())) for x in document["openings"]]}
    assert digest(turned, base_edition()) == digest(document, base_edition())
    bare = put(put(document, "openings/0/width", 48), "length_unit", "in")
    assert digest(bare, base_edition()) == digest(document, base_edition())
    in_json = read_json(json.dumps(put(bare, "openings/0/width", 48.0)))
    assert isinstance(in_json, dict)
    assert digest(in_json, base_edition()) == digest(document, base_edition())


DECIDING: list[tuple[str, Any]] = [
    ("openings/0/mark", "A1"),
    ("openings/0/quantity", 11),
    ("openings/0/width", "48.0001 in"),
    ("openings/0/kind", "louvre"),
    ("openings/0/sides", ["jambs", "head"]),
    ("openings/0/access", "lift"),
    ("openings/0/access", None),
    ("openings/0/elevation", "South"),
    ("openings/0/storey", "2"),
    ("openings/0/treated_depth", "7 in"),
    ("openings/0/substrate", "osb"),
    ("openings/0/wall_barrier", "none"),
    ("openings/0/sill", {"kind": "pan"}),
    ("openings/0/method", "tape"),
    ("openings/0/height_above_grade", "30 ft"),
    ("openings/0/excluded", {"reason": "by others"}),
    ("openings/0/alternate", "1"),
    ("openings/1", opening("B", 4, shape="round", diameter="60 in")),
    ("work_date", "2027-03-16"),
    ("units", "metric"),
    ("method", "tape"),
    ("wall_barrier", "none"),
    ("substrate", "osb"),
    ("treated_depth", "6.1 in"),
    ("method_override", {"reason": "the designer's order", "by": "an invented designer"}),
    ("crew/members/0/count", 2),
    ("crew/experience", "new"),
    ("crew/experience", {"done_before": "3"}),
    ("crew/crews", 2),
    ("mobilisations", 2),
    ("mobilisations", [{"work_date": "2027-03-15"}]),
    ("temperature", "hot"),
    ("congestion", "tight"),
    ("rework", "some"),
    ("perimeter_seal", {"width": "1/2 in"}),
    ("perimeter_seal", {"width": "1/2 in", "weeps": {"count": 1, "length": "1 in"}}),
    ("sheathing_joints", {"corners": "10 ft"}),
    ("stock", {"mesh": "10 ft"}),
    ("materials", {"mesh": "mesh"}),
    ("subcontracts", [{"title": "Testing", "amount": "1"}]),
    ("allowances", [{"title": "Pipes", "count": "1", "unit_price": "1"}]),
    ("allocate_by", "touch_minutes"),
    ("empty_price", "minimum"),
    ("no_primer_reason", "a sealed edge"),
    ("exemption_certificate", "X-1"),
    ("wall_area", "1000 ft2"),
]
OF_EDITION: list[tuple[str, Any]] = [
    ("currency", "EUR"),
    ("rounding", "half_even"),
    ("effective_from", "2027-01-02"),
    ("tables/labour/0/wage", "60.01"),
    ("tables/labour/0/fringe", "9.51"),
    ("tables/labour/0/burden/0/percent", "28.1"),
    ("tables/labour/0/burden/0/on", "straight_wage"),
    ("tables/labour/0/productive_share", "0.9"),
    ("tables/labour/0/cost_code", "07 27 00"),
    ("tables/materials/0/wet_film/0", "21 mil"),
    ("tables/materials/1/width", "10 in"),
    ("tables/materials/1/packs/0/size", "151 ft"),
    ("tables/materials/1/packs/0/price", "60.01"),
    ("tables/materials/1/waste", {"kind": "added", "percent": "1"}),
    ("tables/materials/1/waste", {"kind": "lost", "percent": "1"}),
    ("tables/materials/1/waste_by_temperature", {"hot": {"kind": "lost", "percent": "1"}}),
    ("tables/materials/1/taxable", False),
    ("tables/materials/1/price_as", "used"),
    ("tables/materials/3/edge_width", "2 in"),
    ("tables/equipment/0/rental/0/price", "201"),
    ("tables/equipment/0/delivery", "36"),
    ("tables/equipment/0/per_workers", 3),
    ("tables/production/opening_minutes/fixed", "13"),
    ("tables/production/access/lift", "1.3"),
    ("tables/production/learning/tau", "11"),
    ("tables/production/pair/factor", "0.9"),
    ("tables/production/hours_per_day", "10"),
    ("tables/production/geometry/face_lap", "3 in"),
    ("tables/overheads/0/percent", "13"),
    ("tables/overheads/0/on", "labour"),
    ("tables/overheads/1/tiers", [{"up_to": "10", "percent": "1.5"}, {"up_to": None, "percent": "1.5"}]),
]


def test_every_deciding_value_changes_the_digest_and_no_two_alike() -> None:
    plain, rates = base_request(), base_edition()
    found = [digest(plain, rates)]
    found += [digest(put(plain, path, value), rates) for path, value in DECIDING]
    found += [digest(plain, put(rates, path, value)) for path, value in OF_EDITION]
    assert all(text.startswith("v1:") and len(text) == 67 for text in found)
    assert len(set(found)) == 1 + len(DECIDING) + len(OF_EDITION)


def test_only_the_editions_that_price_it_count() -> None:
    later = edition(effective_from="2027-09-01", labour=[worker(wage="90")])
    assert digest(base_request(), base_edition(), later) == digest(base_request(), base_edition())


def test_what_has_no_canonical_form_is_an_error_of_the_program() -> None:
    with pytest.raises(TypeError):
        canonical(0.5)
    with pytest.raises(TypeError):
        canonical(put)


def golden() -> tuple[Document, Document]:
    """The worked golden request and edition."""
    documents = [json.loads((CASE / name).read_text()) for name in ("request.json", "edition.json")]
    return documents[0], documents[1]


def in_millimetres(document: Document) -> Document:
    """The request with its inches as millimetres, asking for metric units."""
    text = json.dumps(document)
    for inches in ("86", "72", "60", "48", "40", "6"):
        text = text.replace(f'"{inches} in"', f'"{int(inches) * 254 / 10:g} mm"')
    assert ' in"' not in text
    metric: Document = json.loads(text)
    return metric | {"units": "metric"}


def test_the_same_sizes_in_millimetres_cost_the_same() -> None:
    document, rates = golden()
    one, two = (cost_request(d, sources(rates)) for d in (document, in_millimetres(document)))
    assert built(one) == built(two) and one.allocation == two.allocation
    assert mark_prices(two) == {"A": 91919, "B": 54048, "C": 19533}
    assert one.input_digest != two.input_digest  # their documents differ in units


@settings(max_examples=25)
@given(st.integers(0, 10**6))
def test_the_same_input_has_the_same_digest_and_the_same_estimate(seed: int) -> None:
    """From documents that were written out and read again."""
    document, editions = random_case(seed)
    written = json.dumps([document, editions])
    document_again, editions_again = json.loads(written)
    one = cost_request(document, sources(*editions))
    two = cost_request(document_again, sources(*editions_again))
    assert one.input_digest == two.input_digest
    assert (built(one), one.allocation, one.remarks) == (built(two), two.allocation, two.remarks)
