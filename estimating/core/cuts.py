"""The pieces of one opening before stock is chosen, in the order of work: sill, jambs, head, then diagonals.

Each upper piece laps the lower (common practice, no source). Lengths and widths in nm.
"""

from __future__ import annotations

from dataclasses import dataclass

from estimating.core.kinds import Kind
from estimating.core.shapes import Measure, Pipe, sloped_depth_nm
from rates.core.fraction import Fraction
from rates.core.rows import Geometry


@dataclass(frozen=True)
class Cut:
    """`count` pieces of one name; width None is a tape corner piece of the stock's own width.

    A diagonal may enter the roll by either side.
    """

    name: str
    length_nm: Fraction
    width_nm: Fraction | None
    count: int
    diagonal: bool = False


def return_depth_nm(kind: Kind, geometry: Geometry) -> Fraction:
    """The treated return: into the wall, or along a pipe."""
    if isinstance(kind.shape, Pipe):
        lap = kind.shape.lap_on_pipe
        return lap if lap is not None else geometry.lap_on_pipe_nm
    return kind.depth_nm or Fraction(0)


def sill_depth_nm(kind: Kind, geometry: Geometry) -> Fraction:
    """The return at the sill: d / cos φ where it slopes."""
    depth = return_depth_nm(kind, geometry)
    if kind.sill is not None and kind.sill.kind == "sloped":
        return sloped_depth_nm(depth, kind.sill.angle_degrees)
    return depth


def run_cut(name: str, length_nm: Fraction, count: int, kind: Kind, geometry: Geometry) -> Cut:
    """The piece cut for one run of the outline."""
    g = geometry
    width = return_depth_nm(kind, g) + g.face_lap_nm
    tape = kind.method == "tape"
    if name == "sill":
        turn = g.tape_sill_turn_up_nm if tape else g.sill_turn_up_nm
        return Cut("sill", length_nm + 2 * turn, sill_depth_nm(kind, g) + g.face_lap_nm, count)
    if name == "jambs":
        turns = g.turn_head_nm + (g.turn_sill_nm if "sill" in kind.sides else 0)
        return Cut("jamb", length_nm + turns, width, count)
    if name == "head":
        return Cut("head", length_nm + (2 * g.face_lap_nm if tape else 0), width, count)
    if name == "arc":
        return Cut("arch head", length_nm * g.arch_factor, width, count)
    if name == "collar":
        return Cut("collar", length_nm * g.collar_factor + g.collar_lap_nm, width, count)
    return Cut("side", length_nm + g.turn_head_nm, width, count)


def cuts(kind: Kind, measure: Measure, geometry: Geometry) -> tuple[Cut, ...]:
    """Every piece of one opening of this kind."""
    pieces = [run_cut(run.name, run.length_nm, run.count, kind, geometry) for run in measure.runs]
    if measure.corners and kind.method == "tape":
        pieces.append(Cut("corner", geometry.tape_corner_length_nm, None, measure.corners))
    elif measure.corners:
        long, wide = geometry.diagonal_length_nm, geometry.diagonal_width_nm
        pieces.append(Cut("diagonal", long, wide, measure.corners, diagonal=True))
    return tuple(pieces)
