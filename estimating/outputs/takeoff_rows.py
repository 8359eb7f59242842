"""The lines of the schedule and the cut pieces as answers list them."""

from __future__ import annotations

from fractions import Fraction

from estimating.core.estimate import Estimate, part_of_lines
from estimating.core.part import KindWork
from estimating.core.schedule import Line
from estimating.outputs.measures import measures_of
from rates.core.exact import print_quantity

Row = dict[str, object]
FIGURES = ("method", "perimeter", "treated_area", "base_minutes")


def kind_texts(work: KindWork, estimate: Estimate) -> Row:
    """The figures that every line of a kind shares."""
    m = measures_of(estimate)
    return {
        "kind": work.kind.kind,
        "shape": work.kind.shape.name,
        "method": work.kind.method,
        "perimeter": m.print_perimeter(work.takeoff.measure.perimeter_nm),
        "treated_area": m.print_area(work.takeoff.treated_area_nm2),
        "base_minutes": print_quantity(work.minutes.base),
    }


def unpriced_texts(line: Line, estimate: Estimate) -> Row:
    """A line that is shown and not priced: what it is and why."""
    kind = None if line.kind is None else estimate.request.schedule.kinds[line.kind]
    why = line.reason or (f"alternate {line.alternate}" if line.alternate else None)
    known = {"kind": kind.kind if kind else None, "shape": kind.shape.name if kind else None}
    figures = dict.fromkeys(FIGURES) | {"touch_minutes": "0", "price": estimate.till.text(0)}
    return known | figures | {"not_priced": why}


def remarks_by_line(estimate: Estimate) -> dict[int, list[str]]:
    """Remark codes by the line that they point at."""
    found: dict[int, list[str]] = {}
    for remark in estimate.remarks:
        place = remark.pointer.removeprefix("/openings/").split("/")[0]
        if place.isdigit():
            found.setdefault(int(place), []).append(remark.code)
    return found


def openings(estimate: Estimate) -> list[Row]:
    """Every line of the schedule with its figures; lines that are not priced have none, and say why."""
    owner = part_of_lines(estimate.parts) if len(estimate.parts) > 1 else {}
    remarks, money = remarks_by_line(estimate), estimate.till.text
    prices = estimate.allocation.line_prices
    texts: dict[tuple[int, int], Row] = {}
    figures: dict[tuple[int, int, int], Row] = {}
    rows: list[Row] = []
    for i, line in enumerate(estimate.request.schedule.lines):
        p, kind, quantity = owner.get(i, 0), line.kind, line.quantity
        work = estimate.parts[p].works.get(kind) if kind is not None else None
        if work is None or kind is None or line.reason is not None or line.alternate is not None:
            shared = unpriced_texts(line, estimate)
        else:
            key = (p, kind, quantity)
            known = figures.get(key)
            if known is None:
                if (p, kind) not in texts:
                    texts[p, kind] = kind_texts(work, estimate)
                minutes = print_quantity(work.touch_minutes_each * quantity)
                known = figures[key] = {**texts[p, kind], "touch_minutes": minutes}
            shared = {**known, "price": money(prices[i]), "not_priced": None}
        place = {"elevation": line.elevation or None, "storey": line.storey or None}
        row: Row = {"line": i + 1, "mark": line.mark, "quantity": quantity, **place, **shared}
        row["remarks"] = remarks.get(i, [])
        rows.append(row)
    return rows


PieceKey = tuple[str, str, Fraction, Fraction]
Sums = dict[PieceKey, dict[str, int]]


def piece_sums(estimate: Estimate) -> Sums:
    """Pieces by (material, piece, length, width) with their count for each mark."""
    found: Sums = {}
    lines = estimate.request.schedule.lines
    for part in estimate.parts:
        targets: dict[int | None, list[tuple[dict[str, int], int]]] = {}
        for kind, work in part.works.items():
            choice = work.takeoff.choice
            targets[kind] = [
                (found.setdefault((x.material, x.name, x.length_nm, x.width_nm), {}), x.pieces)
                for x in (choice.pieces if choice else ())
            ]
        for i in part.plan.lines:
            line = lines[i]
            if line.kind in targets and line.quantity and line.reason is None and line.alternate is None:
                mark, quantity = line.mark, line.quantity
                for of_mark, each in targets[line.kind]:
                    of_mark[mark] = of_mark.get(mark, 0) + each * quantity
        for x in part.joints.takeoff.choice.pieces if part.joints else ():
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
