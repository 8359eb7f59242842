"""Assumptions: by hand where a person would look, and by a law: entering what is assumed moves no price and ends it."""

from __future__ import annotations

import copy
from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest

from estimating.core.estimate import Estimate
from estimating.core.job import cost, read_request
from estimating.core.request_reading import FIELDS
from estimating.core.shapes import SHAPE
from estimating.outputs.assumptions.absent import absent_fields, print_default
from estimating.outputs.assumptions.item import DEFAULT, EDITION, NOTHING, PRICE, REQUEST, SOURCES, Assumption, Basis
from estimating.outputs.assumptions.listing import assumptions
from rates.core.card import EDITION as EDITION_FIELDS
from rates.core.exact import print_quantity
from rates.core.fields import Field, ListOf, Record
from rates.core.labour_table import LABOUR
from rates.core.length_styles import LengthStyle
from rates.core.production import PRODUCTION
from rates.core.tables import EQUIPMENT, MATERIALS, OVERHEADS
from tests.core.command_line import GOLDEN_FILES, ROOT, run
from tests.core.invented import Document, edition, lift, opening, production, request, sources
from tests.core.random_estimates import random_case
from tests.core.random_estimates import sources as sources_of
from tests.length import tries

SHOW = LengthStyle("inches").show


def exact(nm: Any) -> str:
    """A length without rounding."""
    return f"{print_quantity(nm / 10**6, 12)} mm"


def assumed(document: Document, *editions: Document) -> tuple[Estimate, list[Assumption]]:
    """The estimate of a request and its assumptions."""
    found = sources(*editions) if editions else sources()
    return assumed_from(document, found)


def assumed_from(document: Document, found: Any, show: Any = SHOW) -> tuple[Estimate, list[Assumption]]:
    job = read_request(document, found)
    estimate = cost(job)
    return estimate, assumptions(Basis(document, tuple(zip(found, job.cards, strict=True)), estimate, show))


def by_field(items: list[Assumption]) -> dict[str, list[tuple[str, str, int]]]:
    """(value, source, openings) of each field."""
    found: dict[str, list[tuple[str, str, int]]] = {}
    for item in items:
        found.setdefault(item.field, []).append((item.value, item.source, item.openings))
    return found


def test_lines_say_what_is_taken_for_them_and_how_many_openings_it_touches() -> None:
    lines = (
        opening("A", 10),
        opening("B", 4, access="lift", sides=["jambs", "head"], kind="door"),
        {"mark": "P", "quantity": 3, "kind": "pipe", "diameter": "4 in"},
        opening("X", 9, excluded={"reason": "by others"}),
        opening("Z", 0),
    )
    found = by_field(assumed(request(*lines), edition(equipment=[lift()]))[1])
    assert found["kind"] == [("window", DEFAULT, 10)]
    assert found["shape"] == [("rectangle", DEFAULT, 14)]
    assert found["sides"] == [("all", DEFAULT, 10)]
    assert found["access"] == [("ground", DEFAULT, 3)]
    assert found["lap_on_pipe"] == [("2 in", EDITION, 3)]
    assert found["treated_depth"] == [("6 in", REQUEST, 14)]
    assert found["wall_barrier"] == [("fluid", REQUEST, 17)]
    assert found["equipment/lift/delivery"] == [("0", EDITION, 4)]
    assert found["equipment/lift/per_workers"] == [("one unit", EDITION, 4)]
    assert found["materials/mesh/waste"] == [("0 %", EDITION, 14 + 3)]
    assert found["labour/worker/productive_share"] == [("1", EDITION, 17)]
    assert found["mobilisations"] == [("1", DEFAULT, 17)]
    assert "materials/tape/waste" not in found, "no tape is used"
    assert "production/geometry/arch_factor" not in found, "no arch is priced"
    assert found["production/geometry/collar_factor"] == [("1.1", EDITION, 3)]


def test_a_default_of_two_editions_is_told_once_with_the_openings_of_both() -> None:
    later = edition(effective_from="2027-07-01")
    parts = [{"work_date": "2027-03-15", "openings": ["A"]}, {"work_date": "2027-08-01"}]
    document = request(opening("A", 5), opening("B", 5), mobilisations=parts)
    found = by_field(assumed(document, edition(), later)[1])
    assert found["materials/mesh/waste"] == [("0 %", EDITION, 10)]
    assert found["rounding"] == [("half_up", EDITION, 10)]
    assert "access" not in found


def test_a_sentence_names_the_openings_and_what_is_taken() -> None:
    items = assumed(request(*({"mark": f"M{i}", "quantity": 1, "width": "3 ft", "height": "4 ft"} for i in range(9))))[
        1
    ]
    sentences = {item.field: item.sentence for item in items}
    assert sentences["access"] == "9 openings (M0, M1, M2, M3, M4, M5 …) give no access: from the ground."
    assert sentences["allocate_by"] == (
        "Nobody entered how the price is shared over the marks; taken: by what each mark uses."
    )
    assert sentences["treated_depth"].endswith("give no treated depth of their own; taken for all of them: 6 in.")
    assert sentences["materials/liquid/taxable"] == (
        'The edition\'s row "Invented liquid" leaves open whether sales tax falls on it; taken: yes.'
    )


def test_what_moves_the_price_most_stands_first_and_what_moves_none_last() -> None:
    model = {"model": "exponential", "first": "1.8", "tau": "10"}
    table = production(learning=model, access={"ground": "1", "lift": "1.2"}, setup_hours={"mobilisation": "1"})
    document = request(opening("A", 4), {"mark": "B", "quantity": 2, "width": "3 ft", "height": "3 ft"})
    estimate, items = assumed(document, edition(production=table, equipment=[lift()]))
    names = [item.field for item in items]
    assert names[:2] == ["access", "crew/experience"]
    assert set(names[-2:]) == {"units", "allocate_by"}
    rates = edition(production=table, equipment=[lift()])
    new = assumed(document | {"crew": document["crew"] | {"experience": "new"}}, rates)[0]
    on_lift = [document["openings"][0], document["openings"][1] | {"access": "lift"}]
    lifted = assumed(document | {"openings": on_lift}, rates)[0]
    assert lifted.up.price_minor > new.up.price_minor > estimate.up.price_minor
    moved = [lifted.up.price_minor - estimate.up.price_minor, new.up.price_minor - estimate.up.price_minor]
    assert [(item.moves, item.stake_minor) for item in items[:2]] == [(PRICE, stake) for stake in moved]
    assert {item.moves for item in items[-2:]} == {NOTHING}
    rest = [item.openings for item in items[2:-2]]
    assert rest == sorted(rest, reverse=True)


ENTERED: dict[str, Any] = {"external": True, "seal": True}  # what says on a line what is printed in words


def enter_line(document: Document, item: Assumption) -> None:
    """Writes an assumed value into every line that lacks it."""
    value = ENTERED.get(item.field, item.value)
    for line in document["openings"]:
        if line.get(item.field) is None and fits(line, item):
            line[item.field] = value.replace(",", "").split() if item.field == "sides" and value != "all" else value


def fits(line: Document, item: Assumption) -> bool:
    """Whether a line can have the field, and this value of it."""
    pipe = line.get("kind") == "pipe" or line.get("shape") == "pipe"
    if item.field == "lap_on_pipe":
        return pipe and "diameter" in line
    if item.field == "sides":
        shaped = line.get("shape", "pipe" if pipe else "rectangle")
        no_sill = line.get("sill", {}).get("kind") == "none"
        return bool(SHAPE[shaped].has_sill and no_sill == (item.value != "all"))
    if item.field == "shape":
        return not pipe
    return True


def as_document(value: str) -> Any:
    """A printed default as a document would hold it."""
    if value in ("yes", "no"):
        return value == "yes"
    if value.endswith(" %"):
        return {"kind": "added", "percent": value[:-2]}
    return value


def enter_request(document: Document, item: Assumption) -> None:
    """Writes an assumed value into the request."""
    *path, last = item.field.split("/")
    place: Any = document
    for name in path:
        place = place[int(name)] if isinstance(place, list) else place[name]
    place[last] = as_document(item.value)


def enter_rates(editions: list[Document], item: Assumption) -> None:
    """Writes an assumed value into every edition."""
    for document in editions:
        path = item.field.split("/")
        place: Any = document if len(path) == 1 else document["tables"][path[0]]
        if len(path) > 1 and path[0] != "production":
            place = next((row for row in place if row["code"] == path[1]), {})
            path = path[1:]
        for name in path[1:-1] if len(path) > 2 else ():
            place = place.setdefault(name, {})
        if path[-1] == "diagonal":
            place.setdefault("diagonal", dict(zip(("width", "length"), item.value.split(" × "), strict=True)))
        elif path[-1] == "learning":
            place.setdefault("learning", {"model": "none"})
        elif item.value == "none":
            place.setdefault(path[-1], [] if path[-1] in ("burden", "height") else {})
        elif not (path[-1] == "per_workers" or path[-1] in place):
            place[path[-1]] = as_document(item.value)


LINE_FIELDS = ("kind", "shape", "sides", "access", "external", "seal", "lap_on_pipe")
OF_REQUEST = ("method", "treated_depth", "wall_barrier", "substrate")


def enterable(item: Assumption) -> bool:
    """Whether the value can be written as it is: what is none, and what only a request has, can't."""
    if item.field in OF_REQUEST:
        return item.value != "not told"
    return item.field in LINE_FIELDS or item.source == EDITION or item.value not in ("none", "no overtime", "blank")


TRIES = 5  # how often a field is entered of each thirty cases: every time costs the estimate anew


@pytest.mark.law
@pytest.mark.parametrize("start", range(0, tries(30, 120), 30))
def test_entering_what_is_assumed_moves_no_price_and_ends_the_assumption(start: int) -> None:
    seen: Counter[str] = Counter()
    for seed in range(start, start + 30):
        document, editions = random_case(seed)
        estimate, items = assumed_from(document, sources_of(editions), exact)
        for item in items:
            if not enterable(item) or item.field in ("sill", "elevation", "storey", "height_above_grade"):
                continue
            if seen[item.field.split("/")[-1]] == TRIES:
                continue
            entered, rates = copy.deepcopy(document), copy.deepcopy(editions)
            if item.field in (*LINE_FIELDS, *OF_REQUEST):
                enter_line(entered, item)
            elif item.source == EDITION:
                enter_rates(rates, item)
            else:
                enter_request(entered, item)
            after, left = assumed_from(entered, sources_of(rates), exact)
            assert after.up.price_minor == estimate.up.price_minor, (seed, item)
            if "per_workers" not in item.field:
                assert item not in left, (seed, item)
            seen[item.field.split("/")[-1]] += 1
    assert len(seen) > 25, sorted(seen)


def tables() -> Iterator[tuple[str, tuple[Field, ...]]]:
    """Every field table that has defaults, those of records inside with it."""
    whole = {
        "request": FIELDS,
        "edition": EDITION_FIELDS.fields,
        "labour": LABOUR.fields,
        "materials": MATERIALS.fields,
        "equipment": EQUIPMENT.fields,
        "production": PRODUCTION.fields,
        "overheads": OVERHEADS.fields,
    }
    for name, fields in whole.items():
        yield name, fields
        for field in fields:
            inner = field.reader.item if isinstance(field.reader, ListOf) else field.reader
            if isinstance(inner, Record):
                yield f"{name}/{field.name}", inner.fields


@pytest.mark.parametrize(("name", "fields"), list(tables()), ids=lambda value: value if isinstance(value, str) else "")
def test_every_default_of_every_table_can_be_printed(name: str, fields: tuple[Field, ...]) -> None:
    for absent in absent_fields(fields, {}):
        text = print_default(absent.field, SHOW)
        assert text and not set("<>[](){}'") & set(text), (name, absent.name, text)


def test_an_entered_value_is_never_listed() -> None:
    lines = [
        opening(
            "A",
            2,
            kind="window",
            shape="rectangle",
            width="3 ft",
            height="3 ft",
            sides=["sill", "jambs", "head"],
            external=True,
        )
    ]
    document = request(*lines, mobilisations=1, units="metric", only_external=False)
    found = by_field(assumed(document)[1])
    assert not {"kind", "shape", "sides", "external", "access", "mobilisations", "units", "only_external"} & set(found)
    assert {source for values in found.values() for _, source, _ in values} <= set(SOURCES)


def test_the_command_prints_them() -> None:
    ended = run(*GOLDEN_FILES, "--assumptions")
    assert (ended.status, ended.err) == (0, "")
    assert ended.out.startswith("ASSUMPTIONS")
    assert "  - sides: all (default, 14 openings)" in ended.out
    assert all(len(line) <= 80 for line in ended.out.splitlines())


def test_the_command_tells_that_the_demo_supplied_assumptions_and_rates() -> None:
    ended = run(ROOT / "estimating" / "demo" / "clinic-a.csv", "--assumptions")
    assert "treated_depth: 6 in (default, 16 openings)" in ended.out
    assert "this is the demo's invented assumption" in ended.out
    assert "No --rates was given" in ended.out


def test_a_file_of_which_nothing_was_answered_lists_no_answer(tmp_path: Any) -> None:
    path = tmp_path / "schedule.csv"
    path.write_text("MARK,QTY,WIDTH (IN),HEIGHT (IN),ACCESS\nW1,2,36,48,ground\n")
    ended = run(path, "--assumptions")
    assert ended.status == 0 and "(default" in ended.out and "(answer" not in ended.out
