"""What the tables of an edition leave out: the defaults of rows that price the work, with the openings they touch."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from estimating.core.part import Part
from estimating.core.shapes import ALL_SIDES
from estimating.core.work import KindWork
from estimating.outputs.assumptions.absent import Absent, absent_fields, print_default
from estimating.outputs.assumptions.item import EDITION, Assumption, Basis, openings_where
from rates.core.card import EDITION as EDITION_FIELDS
from rates.core.card import Card, EditionSource
from rates.core.fields import Field
from rates.core.labour_table import LABOUR
from rates.core.layers import merge
from rates.core.production import PRODUCTION
from rates.core.tables import EQUIPMENT, MATERIALS, OVERHEADS

Touches = Callable[[KindWork], bool]
# left out, these name nothing; a name that the request uses and they lack is refused
NAMES = frozenset(
    {"temperature", "congestion", "rework", "waste_by_temperature", "cost_codes", "access_limits", "owned"}
)
FIELDS_OF: dict[str, Sequence[Field]] = {
    "labour": LABOUR.fields,
    "materials": MATERIALS.fields,
    "equipment": EQUIPMENT.fields,
    "overheads": OVERHEADS.fields,
}


def every(work: KindWork) -> bool:
    """All openings."""
    return True


def has_corners(work: KindWork) -> bool:
    """Openings whose jambs turn at sill and head."""
    return work.kind.method == "fluid" and work.kind.shape.has_sill


def has_extra_strips(method: str) -> Touches:
    """Openings whose strips are wider than their stock."""
    return lambda work: work.kind.method == method and bool(work.choice and work.choice.extra_strips)


def has_stretch(name: str) -> Touches:
    """Openings whose outline has a stretch of this name."""
    return lambda work: any(stretch.name == name for stretch in work.kind.shape.stretches(ALL_SIDES))


def is_taped(work: KindWork) -> bool:
    """Openings under tape."""
    return work.kind.method == "tape"


RENTAL_DAYS = ("days_per_week", "days_per_month")
TOUCHES: dict[str, Touches] = {
    "penetration_minutes": lambda work: work.kind.is_pipe or work.is_small,
    "opening_minutes": lambda work: not (work.kind.is_pipe or work.is_small),
    "arch_factor": has_stretch("arc"),
    "collar_factor": has_stretch("collar"),
    "collar_lap": has_stretch("collar"),
    "lap_on_pipe": lambda work: False,  # told with the lines that leave it out
    "mesh_lap": has_extra_strips("fluid"),
    "tape_lap": has_extra_strips("tape"),
    "tape_sill_turn_up": is_taped,
    "tape_corner_length": is_taped,
    "turn_sill": has_corners,
    "turn_head": has_corners,
    "sill_turn_up": has_corners,
    "diagonal": lambda work: work.kind.method == "fluid" and not work.kind.is_pipe,
    "height": lambda work: work.kind.height_above_grade_nm is not None,
    "storey_height": lambda work: False,  # a check says by which height it found what it found
    "sill": lambda work: work.kind.sill is not None,
    "shape": lambda work: work.kind.shape.name != "rectangle",
    "access": lambda work: work.kind.access not in (None, "ground"),
    "extra_strip_minutes": lambda work: bool(work.choice and work.choice.extra_strips),
}


def whole_document(source: EditionSource) -> Mapping[str, Any]:
    """The edition's document with the layers below it."""
    return merge(source)[0] if source.below is not None else source.document


def assumed_in_rates(basis: Basis) -> Iterator[Assumption]:
    """Every assumption about the editions that price the work."""
    for source, card in basis.used_cards():
        parts = [part for part in basis.estimate.parts if part.plan.card is card]
        document: Any = whole_document(source)
        works = [work for part in parts for work in part.works.values()]
        yield from heading_defaults(document, works, basis)
        yield from production_defaults(document["tables"]["production"], parts, basis)
        for table, code, touches in rows_used(basis, parts, card):
            row = next(row for row in document["tables"][table] if str(row["code"]).strip() == code)
            openings = openings_where(works, touches)
            for absent in absent_fields(FIELDS_OF[table], row, (table, code)):
                if absent.path[-1] not in NAMES and openings:
                    yield assume(absent, f'The edition\'s row "{row["title"]}" leaves open', openings, basis)
            if table == "equipment" and row.get("per_workers") is None:
                silent = f'The edition\'s row "{row["title"]}" does not say how many workers a unit serves'
                sentence = f"{silent}; one unit is taken."
                yield Assumption(f"{table}/{code}/per_workers", "one unit", EDITION, openings, sentence)


def assume(absent: Absent, whose: str, openings: int, basis: Basis) -> Assumption:
    """One default of an edition."""
    value = print_default(absent.field, basis.show)
    return Assumption(absent.name, value, EDITION, openings, absent.sentence(whose, value))


def heading_defaults(document: Mapping[str, Any], works: Sequence[KindWork], basis: Basis) -> Iterator[Assumption]:
    """Rounding, and how sales tax is rounded."""
    for absent in absent_fields([f for f in EDITION_FIELDS.fields if f.name != "tables"], document):
        if absent.path[-1] not in NAMES:
            yield assume(absent, "The edition leaves open", openings_where(works, every), basis)


def production_defaults(table: Mapping[str, Any], parts: Sequence[Part], basis: Basis) -> Iterator[Assumption]:
    """The defaults of the production table that touch any opening."""
    works = [work for part in parts for work in part.works.values()]
    rented = frozenset(access for part in parts for line in part.equipment for access in line.row.for_access)
    for absent in absent_fields(PRODUCTION.fields, table, ("production",)):
        openings = openings_where(works, TOUCHES.get(absent.path[-1], TOUCHES.get(absent.path[1], every)))
        if absent.path[-1] in RENTAL_DAYS:
            openings = openings_where(works, reached_by(rented))
        if absent.path[-1] not in NAMES and openings:
            yield assume(absent, "The edition's production table leaves open", openings, basis)


def rows_used(basis: Basis, parts: Sequence[Part], card: Card) -> Iterator[tuple[str, str, Touches]]:
    """(table, code, the openings that it touches) of every row that prices the work."""
    for code in dict.fromkeys(member.labour for member in basis.estimate.request.crew.members):
        yield "labour", code, every
    for material in {line.row.code: line.row for part in parts for line in part.materials}.values():
        yield "materials", material.code, uses(material.code) if material.role != "consumable" else every
    for rented in {line.row.code: line.row for part in parts for line in part.equipment}.values():
        yield "equipment", rented.code, reached_by(frozenset(rented.for_access))
    for row in card.overheads:
        yield "overheads", row.code, every


def uses(code: str) -> Touches:
    """Openings that take some of a material."""
    return lambda work: code in work.use


def reached_by(access: frozenset[str]) -> Touches:
    """Openings worked from one of these."""
    return lambda work: (work.kind.access or "ground") in access
