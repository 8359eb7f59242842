"""The lines of the schedule and the cut pieces as answers list them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from estimating.core.estimate import Estimate, part_of_lines
from estimating.core.schedule_lines import Line
from estimating.core.work import KindWork
from estimating.outputs.measures import measures_of
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction

Row = dict[str, object]
FIGURES = ("method", "perimeter", "treated_area", "base_minutes")


def kind_texts(work: KindWork, estimate: Estimate) -> Row:
    """The figures that every line of a kind shares."""
    m = measures_of(estimate)
    return {
        "kind": work.kind.kind,
        "shape": work.kind.shape.name,
        "method": work.kind.method,
        "perimeter": m.print_perimeter(work.perimeter),
        "treated_area": m.print_area(work.treated_area),
        "base_minutes": print_quantity(work.base_minutes),
        "not_priced": None,
    }


def unpriced_texts(line: Line, estimate: Estimate) -> Row:
    """A line that is shown and not priced: what it is and why."""
    kind = None if line.kind is None else estimate.request.schedule.kinds[line.kind]
    why = line.reason or (f"alternate {line.alternate}" if line.alternate else None)
    known = {"kind": kind.kind if kind else None, "shape": kind.shape.name if kind else None}
    return known | dict.fromkeys(FIGURES) | {"not_priced": why}


def remarks_by_line(estimate: Estimate) -> dict[int, list[str]]:
    """Remark codes by the line that they point at."""
    found: dict[int, list[str]] = {}
    for remark in estimate.remarks:
        place = remark.pointer.removeprefix("/openings/").split("/")[0]
        if place.isdigit():
            found.setdefault(int(place), []).append(remark.code)
    return found


@dataclass(frozen=True)
class OpeningTable:
    """Every line of the schedule, the figures that a kind's lines share told once.

    A line is (number, mark, quantity, elevation, storey, place in `shared`, touch minutes, price, remarks, building).
    """

    shared: list[Row]
    lines: list[list[Any]]

    def stretch(self, start: int, end: int) -> Row:
        """Some of the lines with what they share, by its place as text, as JSON."""
        lines = self.lines[start:end]
        used = sorted({line[5] for line in lines})
        return {"shared": {str(place): self.shared[place] for place in used}, "lines": lines}


def opening_rows(stretch: Mapping[str, Any]) -> list[Row]:
    """The lines of a stretch, each whole; lines that are not priced have no figures, and say why."""
    shared = stretch["shared"]
    if isinstance(shared, list):  # as stretches were stored once
        shared = {str(place): row for place, row in enumerate(shared)}
    rows: list[Row] = []
    for number, mark, quantity, elevation, storey, place, minutes, price, remarks, *building in stretch["lines"]:
        row: Row = {"line": number, "mark": mark, "quantity": quantity, "elevation": elevation, "storey": storey}
        row["building"] = building[0] if building else None  # lines were stored without it once
        rows.append({**row, **shared[str(place)], "touch_minutes": minutes, "price": price, "remarks": remarks})
    return rows


def opening_table(estimate: Estimate) -> OpeningTable:
    """Every line of the schedule with its figures."""
    owner = part_of_lines(estimate.parts) if len(estimate.parts) > 1 else {}
    works = [part.works for part in estimate.parts]
    remarks, money = remarks_by_line(estimate), estimate.till.text
    prices, nothing, silent = estimate.allocation.line_prices, estimate.till.text(0), list[str]()
    shared: list[Row] = []
    of_kinds: dict[tuple[int, int], tuple[int, KindWork, dict[int, str]]] = {}  # place, work, minutes by quantity
    of_others: dict[object, int] = {}
    lines: list[list[Any]] = []
    for i, line in enumerate(estimate.request.schedule.lines):
        mark, _, quantity, elevation, storey, kind, reason, alternate = line[:8]
        p = owner.get(i, 0) if owner else 0
        touch, price = "0", nothing
        if kind is None or reason is not None or alternate is not None or kind not in works[p]:
            other = (kind, reason, alternate)
            if other not in of_others:
                of_others[other] = len(shared)
                shared.append(unpriced_texts(line, estimate))
            place = of_others[other]
        else:
            known = of_kinds.get((p, kind))
            if known is None:
                known = of_kinds[p, kind] = (len(shared), works[p][kind], {})
                shared.append(kind_texts(works[p][kind], estimate))
            place, work, minutes = known
            if quantity not in minutes:
                minutes[quantity] = print_quantity(work.touch_minutes * quantity)
            touch, price = minutes[quantity], money(prices[i])
        told = remarks.get(i, silent) if remarks else silent
        where = elevation or None, storey or None
        lines.append([i + 1, mark, quantity, *where, place, touch, price, told, line.building or None])
    return OpeningTable(shared, lines)


def openings(estimate: Estimate) -> list[Row]:
    """Every line of the schedule, each whole."""
    table = opening_table(estimate)
    return opening_rows(table.stretch(0, len(table.lines)))


PieceKey = tuple[str, str, Fraction, Fraction]
Sums = dict[PieceKey, dict[str, int]]


def piece_sums(estimate: Estimate) -> Sums:
    """Pieces by (material, piece, length, width) with their count for each mark."""
    found: Sums = {}
    lines = estimate.request.schedule.lines
    for part in estimate.parts:
        targets: dict[int | None, list[tuple[dict[str, int], int]]] = {}
        for kind, work in part.works.items():
            targets[kind] = [
                (found.setdefault((x.material, x.name, x.length_nm, x.width_nm), {}), x.pieces)
                for x in work.choice.pieces
            ]
        for i in estimate.request.schedule.priced_among(part.plan.lines):
            mark, _, quantity, _, _, of_kind = lines[i][:6]
            for of_mark, each in targets.get(of_kind, ()) if quantity else ():
                if mark in of_mark:
                    of_mark[mark] += each * quantity
                else:
                    of_mark[mark] = each * quantity
        for x in part.joints.choice.pieces if part.joints else ():
            of_mark = found.setdefault((x.material, x.name, x.length_nm, x.width_nm), {})
            of_mark["joints"] = of_mark.get("joints", 0) + x.pieces
    return found


def pieces(estimate: Estimate) -> Row:
    """The cut pieces, longest first in each material; lengths exact to six places."""
    m = measures_of(estimate)
    found = sorted(piece_sums(estimate).items(), key=lambda item: (item[0][0], -item[0][2], item[0][1], item[0][3]))
    items = [
        {
            "material": material,
            "piece": name,
            "length": m.print_length(length),
            "width": m.print_length(width),
            "count": sum(marks.values()),
            "marks": marks,
        }
        for (material, name, length, width), marks in found
    ]
    return {"count": sum(sum(marks.values()) for _, marks in found), "items": items}
