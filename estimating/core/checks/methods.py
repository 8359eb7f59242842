"""Checks of materials and method: laps, waste, coats, the bead of a seal, tape and the barrier that it lies on."""

from __future__ import annotations

from collections.abc import Iterator

from estimating.core.checks.bands import LEAST_LAPS_NM, NEVER_WITHOUT_LOSS, SEAL_DEPTH_NM, SEAL_WIDTH_NM, WASTE
from estimating.core.checks.case import Case, Rates, Work
from estimating.core.checks.wording import JOINTS, length, listed, marks, percent
from estimating.core.shapes import Pipe
from estimating.core.worked import Worked
from rates.core.fraction import Fraction

NEEDED_BY = {"mesh_lap_nm": "mesh", "tape_lap_nm": "tape"}
A_BARRIER = {"fluid": "a fluid-applied barrier", "sheet": "a sheet barrier", "none": "no barrier"}


def laps_short(rates: Rates) -> Iterator[Case]:
    """Laps of the piece geometry too short to shed water."""
    roles = {row.role for row in rates.materials}
    for name, least in LEAST_LAPS_NM.items():
        lap: Fraction = getattr(rates.card.production.geometry, name)
        if lap < least and (name not in NEEDED_BY or NEEDED_BY[name] in roles):
            words = name.removesuffix("_nm").replace("_", " ")
            yield Case(words, {"lap": words, "is": length(lap, rates.metric), "least": length(least, rates.metric)})


def pipe_laps_short(work: Work) -> Iterator[Case]:
    """Pipes whose own lap is too short."""
    least = LEAST_LAPS_NM["lap_on_pipe_nm"]

    def own(shape: object) -> bool:
        return isinstance(shape, Pipe) and shape.lap_on_pipe is not None and shape.lap_on_pipe < least

    lines = work.lines_where(lambda kind: own(kind.shape))
    if lines:
        yield Case("", {"marks": marks(work.request, lines), "least": length(least, work.metric)}, lines)


def waste_unlikely(rates: Rates) -> Iterator[Case]:
    """Materials that are never used without loss, with none or hardly any; or with more waste than use."""
    for row in rates.materials:
        rate = row.waste_at(rates.temperature).rate
        if row.role in NEVER_WITHOUT_LOSS and not WASTE.holds(rate * 100):
            yield Case(row.code, {"title": row.title, "percent": percent(rate), "role": row.role})


def one_coat(rates: Rates) -> Iterator[Case]:
    """Fluid put on in one coat."""
    for row in rates.materials:
        if row.role == "liquid" and len(row.wet_film_nm or ()) < 2:
            yield Case(row.code, {"title": row.title})


def seal_depth(work: Work) -> Iterator[Case]:
    """A bead out of proportion: deeper than wide, or outside 1/4 to 1/2 in."""
    seal = work.request.seal
    if seal is None or not any(kind.sealed is not False for _, kind in work.kinds):
        return
    if seal.depth_nm > seal.width_nm or not SEAL_DEPTH_NM.holds(seal.depth_nm):
        low, high = (length(end, work.metric) for end in SEAL_DEPTH_NM)
        says = {"depth": length(seal.depth_nm, work.metric), "width": length(seal.width_nm, work.metric)}
        yield Case("depth", says | {"low": low, "high": high})


def seal_width(work: Work) -> Iterator[Case]:
    """A perimeter joint of an unlikely width."""
    seal = work.request.seal
    sealed = any(kind.sealed is not False for _, kind in work.kinds)
    if seal is not None and sealed and not SEAL_WIDTH_NM.holds(seal.width_nm):
        low, high = (length(end, work.metric) for end in SEAL_WIDTH_NM)
        yield Case("width", {"width": length(seal.width_nm, work.metric), "low": low, "high": high})


def tape_over_barrier(work: Work) -> Iterator[Case]:
    """Tape on a wall barrier that its row does not list."""
    listed_by = {row.code: row for row in work.card.materials if row.compatible_with is not None}
    hit: dict[tuple[str, str], set[int | None]] = {}
    joints = work.part.joints
    done: list[tuple[int | None, str | None, Worked]]
    done = [(index, kind_work.kind.barrier, kind_work) for index, kind_work in work.part.works.items()]
    done += [] if joints is None else [(None, work.request.given.barrier, joints)]
    for index, barrier, worked in done:
        for code in worked.used if barrier is not None else ():
            row = listed_by.get(code)
            if barrier is not None and row is not None and barrier not in (row.compatible_with or ()):
                hit.setdefault((code, barrier), set()).add(index)
    for (code, barrier), kinds in hit.items():
        lines, row = work.lines_of({index for index in kinds if index is not None}), listed_by[code]
        said = [marks(work.request, lines)] if lines else []
        said += [JOINTS] if None in kinds else []
        says = {"marks": "; ".join(said), "title": row.title, "barrier": A_BARRIER[barrier]}
        says["listed"] = listed(A_BARRIER[name] for name in row.compatible_with or ())
        yield Case(f"{code} {barrier}", says, lines)
