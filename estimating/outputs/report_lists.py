"""The lists of the terminal report that crews and buyers read: materials with packs, cut lengths, equipment."""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

from estimating.core.estimate import Estimate
from estimating.outputs.answer import equipment, materials
from estimating.outputs.measures import for_reading, measures_of
from estimating.outputs.takeoff_rows import piece_sums
from estimating.outputs.text_table import group_thousands, table, unbroken
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction
from rates.core.units import LENGTH_NM, print_feet_inches

MOST_ROWS = 30
EIGHTH_INCH_NM = LENGTH_NM["in"] / 8


def shortened(name: str, limit: int) -> str:
    """A name cut to so many characters."""
    return name if len(name) <= limit else name[: limit - 1] + "…"


def left_out(count: int, what: str) -> list[str]:
    """The line that says how many rows of a list are not shown."""
    return [f"  and {count:,} more {what}; --json lists them all"] if count > 0 else []


def packs_text(packs: object) -> str:
    """Packs as 1×5 gal + 2×1 gal."""
    rows = packs if isinstance(packs, list) else []
    return " + ".join(unbroken(f"{row['count']}×{row.get('size') or row.get('period')}") for row in rows) or "none"


def material_lines(estimate: Estimate) -> list[str]:
    """Each material: net, gross after waste, packs, money."""
    m = measures_of(estimate)
    lines = [line for part in estimate.parts for line in part.materials]
    rows = []
    for row, line in zip(materials(estimate), lines, strict=True):
        dimension, unit = line.row.packs[0].dimension, str(row["unit"])
        net, gross, held = (for_reading(m.stock(dimension, of), unit) for of in (line.net, line.gross, line.stock))
        packs = "the share used" if row["priced_as"] == "used" else packs_text(row["packs"])
        part = f", {row['part']}" if row.get("part") else ""
        stock = f", {held} {unit} from stock" if line.stock else ""
        title = shortened(f"{row['title']}{part}", 60)
        rows.append((title, net, gross, unit, f"{packs}{stock}", group_thousands(str(row["amount"]))))
    if not rows:
        return ["  none"]
    return table(("material", "net", "with waste", "unit", "packs", "amount"), rows, "lrrllr", (0, 4))


def rounding_step(estimate: Estimate) -> str:
    """What lengths to cut are rounded up to, in words."""
    return "1 mm" if estimate.request.units == "metric" else "1/8 in"


class CutLength(NamedTuple):
    """A length to cut, rounded up to 1/8 in or 1 mm, with its width and the pieces of it."""

    material: str
    length_nm: Fraction
    width_nm: Fraction


def cut_lengths(estimate: Estimate) -> dict[CutLength, tuple[int, list[str], set[str]]]:
    """(count, names of the pieces, marks served) of each length to cut; pieces equal after rounding up are merged."""
    step = LENGTH_NM["mm"] if estimate.request.units == "metric" else EIGHTH_INCH_NM
    found: dict[CutLength, tuple[int, list[str], set[str]]] = {}
    for (material, name, length, width), marks in piece_sums(estimate).items():
        key = CutLength(material, ceil(length / step) * step, width)
        count, names, served = found.get(key, (0, [], set()))
        names = names if name in names else [*names, name]
        found[key] = (count + sum(marks.values()), names, served | set(marks))
    return dict(sorted(found.items(), key=lambda item: (item[0].material, -item[0].length_nm, item[0].width_nm)))


def length_text(nm: Fraction, units: str) -> str:
    """A length as crews read it: feet and inches to 1/8 in, or millimetres."""
    return f"{print_quantity(nm / LENGTH_NM['mm'], 1)} mm" if units == "metric" else print_feet_inches(nm, 8)


def cut_lines(estimate: Estimate) -> list[str]:
    """The cut lengths, longest first in each material."""
    found = cut_lengths(estimate)
    units = estimate.request.units
    rows = []
    for cut, (count, names, marks) in list(found.items())[:MOST_ROWS]:
        served = sorted(marks)
        more = f" and {len(served) - 4} more" if len(served) > 4 else ""
        for_marks = ", ".join(shortened(mark, 16) for mark in served[:4]) + more
        sizes = (length_text(cut.length_nm, units), length_text(cut.width_nm, units))
        rows.append((shortened(cut.material, 16), *sizes, f"{count:,}", ", ".join(names), for_marks))
    if not rows:
        return ["  none"]
    lines = table(("material", "length", "width", "pieces", "as", "for marks"), rows, "lrrrll", (4, 5))
    return lines + left_out(len(found) - MOST_ROWS, "lengths")


def equipment_lines(estimate: Estimate) -> list[str]:
    """Each rented row: days, units, periods, money."""
    rows = [
        (
            str(row["title"]),
            str(row["days"]),
            str(row["units"]),
            packs_text(row["rental"]),
            group_thousands(str(row["amount"])),
        )
        for row in equipment(estimate)
    ]
    if not rows:
        return ["  none"]
    return table(("equipment", "days", "units", "rental of a unit", "amount"), rows, "lrrlr", (0, 3))
