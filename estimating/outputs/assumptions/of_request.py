"""What a request leaves out: fields that stand at a default, and work that is not priced as nobody asked for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from estimating.core.request_reading import FIELDS
from estimating.outputs.assumptions.absent import absent_fields, print_default
from estimating.outputs.assumptions.item import DEFAULT, Assumption, Basis
from estimating.outputs.assumptions.words import CONDITIONS

# left out, these hold nothing, and nothing is assumed of what they would hold
ENTRIES = frozenset({"stock", "materials", "subcontracts", "allowances", "walls"})
LEARNT_BY = ("experience", "crews")  # count only where the edition has a learning model
OF_NO_PRICE = frozenset({"units", "allocate_by"})  # the price of the whole is the same


def assumed_in_request(basis: Basis) -> Iterator[Assumption]:
    """Every assumption about the request itself."""
    estimate = basis.estimate
    openings = estimate.openings
    learning = any(card.production.learning.model != "none" for _, card in basis.used_cards())
    for absent in absent_fields(FIELDS, basis.request):
        last = absent.path[-1]
        if last in ENTRIES or (last in LEARNT_BY and not learning) or (last == "empty_price" and openings):
            continue
        value = print_default(absent.field, basis.show)
        yield Assumption(absent.name, value, DEFAULT, openings, absent.sentence("Nobody entered", value))
    for name, value, sentence in (*not_asked_for(basis), *seal_defaults(basis), *overtime(basis)):
        yield Assumption(name, value, DEFAULT, openings, sentence)


def not_asked_for(basis: Basis) -> Iterator[tuple[str, str, str]]:
    """Work and conditions that a request would name."""
    for name, words in (("perimeter_seal", "perimeter seal"), ("sheathing_joints", "work on sheathing joints")):
        if basis.request.get(name) is None:
            yield name, "none", f"No {words} was asked for, so none is priced."
    for name in CONDITIONS:
        known = {word for _, card in basis.used_cards() for word, _ in getattr(card.production, name)}
        if name == "temperature":
            known |= {
                word for _, card in basis.used_cards() for row in card.materials for word, _ in row.waste_by_temperature
            }
        if basis.request.get(name) is None and known:
            words = ", ".join(sorted(known))
            yield name, "none", f"{CONDITIONS[name]} is not stated (the edition knows {words}); no factor is taken."


def seal_defaults(basis: Basis) -> Iterator[tuple[str, str, str]]:
    """The depth and the weep gaps of a perimeter seal, and how its joints are reached."""
    seal: Any = basis.request.get("perimeter_seal")
    read = basis.estimate.request.seal
    if seal is not None and read is not None:
        if seal.get("depth") is None:
            depth = basis.show(read.depth_nm)
            sentence = (
                f"Nobody entered the depth of the perimeter seal; taken: half the width, at least 1/4 in: {depth}."
            )
            yield "perimeter_seal/depth", depth, sentence
        if seal.get("weeps") is None:
            yield "perimeter_seal/weeps", "none", "Nobody entered weep gaps of the perimeter seal; none are left."
    joints: Any = basis.request.get("sheathing_joints")
    if joints is not None and joints.get("access") is None:
        yield (
            "sheathing_joints/access",
            "ground",
            "Nobody entered the access to the sheathing joints; taken: from the ground.",
        )


def overtime(basis: Basis) -> Iterator[tuple[str, str, str]]:
    """That no overtime is counted, where nothing states a week."""
    crew = basis.estimate.request.crew
    codes = {member.labour for member in crew.members}
    stated = any(
        card.production.overtime is not None
        or any(row.hours_per_week is not None for row in card.labour if row.code in codes)
        for _, card in basis.used_cards()
    )
    if crew.hours_per_week is None and not stated:
        yield "crew/hours_per_week", "no overtime", "Nothing states the hours worked a week, so no overtime is counted."
