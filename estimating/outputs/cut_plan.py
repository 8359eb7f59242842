"""The cut plan of an estimate: each roll with its running marks, how few rolls there can be, bundles by zone.

Made from the pieces of the estimate, by the plan that its price stands on where `quantities_from` says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import gcd
from typing import Any

from estimating.core.cutting.cut import cut
from estimating.core.cutting.joining import joined
from estimating.core.cutting.layout import Roll, Size, counted, cut_of
from estimating.core.cutting.rolls import Rolls
from estimating.core.estimate import Estimate
from estimating.core.materials import MaterialLine
from estimating.core.part import Part
from estimating.core.roll_needs import ROLES, STEPS, rolls_of_terms, too_short
from estimating.core.schedule_lines import place_key
from estimating.core.strips import Piece
from estimating.outputs.answer import part_name
from estimating.outputs.cut_proof import proven
from estimating.outputs.measures import measures_of
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction

Row = dict[str, Any]
ZERO = Fraction(0)


@dataclass(frozen=True)
class Planned:
    """A material of a part as it is cut; names: what each size is for, by length in steps and width."""

    estimate: Estimate
    part: Part
    line: MaterialLine
    rolls: Rolls
    step: Fraction
    lap: Fraction
    longest: int
    names: Mapping[Size, str]

    @property
    def row(self) -> Row:
        """What a row of any list starts with."""
        return {"material": self.line.row.code} | part_name(self.part, self.estimate)

    def size_of(self, roll: Roll) -> str:
        """A roll's size as it is ordered."""
        return "stock" if roll.size is None else self.line.packs[roll.size].label


def lengths_of(piece: Piece, step: Fraction, lap: Fraction, longest: int) -> list[tuple[int, int]]:
    """(length in steps, count) of what a piece is made of."""
    parts = joined(int(-(-piece.length_nm // step)), longest, int(-(-lap // step)))
    return [(length, count) for length, count in parts if length and count]


def pieces_of(part: Part, material: str) -> Iterator[Piece]:
    """The pieces of one opening of each kind, and of the joints, that are cut from a material."""
    for work in part.every_work:
        yield from (piece for piece in work.choice.pieces if piece.material == material)


def planned(estimate: Estimate) -> Iterator[Planned]:
    """Each mesh and tape that is used; one with a roll that nothing can be joined of has no plan."""
    step = STEPS[estimate.request.units]
    for part in estimate.parts:
        for line in part.materials:
            if line.row.role not in ROLES:
                continue
            lap = line.of_rolls[1]
            if too_short(line.row, lap, step):
                continue
            longest = max(int(pack.size // step) for pack in line.packs)
            names: dict[Size, list[str]] = {}
            for piece in pieces_of(part, line.row.code):
                for length, _ in lengths_of(piece, step, lap, longest):
                    names.setdefault((length, piece.width_nm), []).append(piece.name)
            told = {size: ", ".join(dict.fromkeys(found)) for size, found in names.items()}
            to, lap, wide, stock, *terms = line.of_rolls
            yield Planned(estimate, part, line, rolls_of_terms(to, lap, wide, stock, terms), step, lap, longest, told)


def material_row(of: Planned) -> Row:
    """How many rolls, and how few there can be; a solver is asked where the core has not proven it."""
    rolls, line = of.rolls, of.line
    least_rolls, why, is_proven, fewest = rolls.least_rolls, rolls.why, rolls.proven, None
    across = {section.across for roll in rolls.rolls for section in roll.sections}
    if not is_proven and len(line.packs) == 1 and len(across) == 1 and all(r.size is not None for r in rolls.rolls):
        (lanes,) = across
        least_rolls, why, found = asked(of, lanes)
        is_proven = least_rolls == rolls.count
        fewest = found if found < rolls.count else None
    gap = Fraction(rolls.count - least_rolls, least_rolls or 1)
    if len(line.packs) > 1:
        gap = (rolls.cost - rolls.least_cost) / rolls.least_cost if rolls.least_cost else ZERO
    return of.row | {
        "title": line.row.title,
        "pieces": sum(cut_of(rolls.rolls).values()),
        "rolls": rolls.count,
        "sizes": [{"size": p.label, "count": n} for p, n in zip(line.packs, rolls.new, strict=True) if n],
        "from_stock": sum(roll.size is None for roll in rolls.rolls),
        "least_rolls": least_rolls,
        "proven": is_proven,
        "proof": why,
        "gap_percent": print_quantity(gap * 100, 2),
        "fewest_found": fewest,
        "bought": [{"size": pack.label, "count": count} for pack, count in line.mix.counts],
        "longest_rest": measures_of(of.estimate).print_length(rolls.longest_rest * of.step),
    }


def asked(of: Planned, across: int) -> tuple[int, str, int]:
    """(least rolls, why, rolls of the best plan known) by the exact model, of pieces that all lie in as many lanes."""
    counts: dict[int, int] = {}
    for (length, _), count in cut_of(of.rolls.rolls).items():
        counts[length] = counts.get(length, 0) + count
    measure = gcd(of.longest, *counts)
    lengths, demand = [length // measure for length in counts], list(counts.values())
    room = of.longest // measure
    found = proven(room, lengths, demand, cut(room, lengths, demand))
    return -(-found.bound.rolls // across), found.bound.why, -(-found.rolls // across)


def roll_rows(of: Planned) -> Iterator[Row]:
    """Each roll's pieces with their running marks; rolls that are cut alike together."""
    m, number = measures_of(of.estimate), 1
    for roll, times in counted(of.rolls.rolls):
        head = of.row | {"first_roll": number, "last_roll": number + times - 1, "roll": of.size_of(roll)}
        number += times
        at = 0
        for section in roll.sections:
            for place, lane in enumerate(section.lanes, 1):
                start = at
                for (length, width), count in lane:
                    end = start + length * count
                    yield head | {
                        "lane": f"{place}/{section.across}",
                        "start": m.print_length(start * of.step),
                        "end": m.print_length(end * of.step),
                        "pieces": of.names[length, width],
                        "length": m.print_length(length * of.step),
                        "width": m.print_length(width),
                        "count": count,
                        "rest": m.print_length(roll.rest * of.step),
                    }
                    start = end
            at += section.length


def bundle_rows(of: Planned) -> Iterator[Row]:
    """The same pieces by elevation, storey and mark; those of the sheathing joints last."""
    m, lines = measures_of(of.estimate), of.estimate.request.schedule.lines
    found: dict[tuple[Any, ...], Row] = {}
    each: dict[int | None, list[Piece]] = {
        kind: [x for x in work.choice.pieces if x.material == of.line.row.code] for kind, work in of.part.works.items()
    }
    tied = [(lines[i], lines[i].quantity, each.get(lines[i].kind, ())) for i in of.part.plan.lines if lines[i].priced]
    for line, quantity, pieces in tied:
        for piece in pieces if quantity else ():
            key = (place_key(line.elevation), place_key(line.storey), line.mark_key, piece)
            place = {"elevation": line.elevation or None, "storey": line.storey or None, "mark": line.mark}
            row = found.setdefault(key, place | of.row | bundled(of, piece, m))
            row["count"] += piece.pieces * quantity
    joints = of.part.joints
    for piece in joints.choice.pieces if joints is not None else ():
        if piece.material == of.line.row.code:
            place = {"elevation": None, "storey": None, "mark": "joints"}
            found["joints", piece] = place | of.row | bundled(of, piece, m) | {"count": piece.pieces}
    yield from found.values()


def bundled(of: Planned, piece: Piece, m: Any) -> Row:
    """A piece in a bundle, none counted yet."""
    return {
        "piece": piece.name,
        "length": m.print_length(-(-piece.length_nm // of.step) * of.step),
        "width": m.print_length(piece.width_nm),
        "count": 0,
        "joined": sum(count for _, count in lengths_of(piece, of.step, of.lap, of.longest)),
    }


def cut_plan(estimate: Estimate) -> Row:
    """The whole plan, materials in the order of the table."""
    plans = list(planned(estimate))
    return {
        "cut_to": measures_of(estimate).print_length(STEPS[estimate.request.units]),
        "materials": [material_row(of) for of in plans],
        "items": [row for of in plans for row in roll_rows(of)],
        "bundles": [row for of in plans for row in bundle_rows(of)],
    }
