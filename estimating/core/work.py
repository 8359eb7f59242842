"""One kind of opening, or the sheathing joints, as worked in a part: geometry first, then what it takes and how long.

A = P(d + f) + f²K; lines that agree in all that counts are one kind, and quantity multiplies.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from estimating.core.conditions import Conditions
from estimating.core.crew import CrewCost
from estimating.core.cuts import Cut, cuts
from estimating.core.figures.figure import Step, called, figure, figures, once, parameter
from estimating.core.figures.printing import AREA, DEGREES, LENGTH, NUMBER, RUN, TEXT
from estimating.core.figures.rules import difference, product, sum_of_products, total
from estimating.core.kinds import Kind
from estimating.core.outlines import (
    OUTLINE_WORDS,
    area_terms,
    over_cosine,
    shape_corner_factor,
    shape_corners,
    shape_outline,
    shape_run,
    shape_width,
    told_outline,
)
from estimating.core.sealing import Sealing
from estimating.core.shapes import Pipe
from estimating.core.supplies import Supplies
from estimating.core.worked import Worked, larger_if_shorter, larger_unless_shorter
from rates.core.fraction import Fraction
from rates.core.production_rows import Geometry, OpeningMinutes

STRETCHES = {name: parameter("stretch", name) for name in ("sill", "jambs", "head", "arc", "collar", "side")}
OF_ITS_CUTS = ("lap", "fitting", "piece_keys", "cut_width", "width_of_strip", "strips", "count", "extra_strips")
HOW_MANY = {count: parameter("how many", count) for count in (1, 2)}


def depth_of(kind: Kind, geometry: Geometry) -> Fraction:
    """The treated return: into the wall, or along a pipe."""
    if not isinstance(kind.shape, Pipe):
        return kind.depth_nm or Fraction(0)
    return kind.shape.lap_on_pipe if kind.shape.lap_on_pipe is not None else geometry.lap_on_pipe_nm


class KindWork(Sealing):
    """A kind as worked in a part: how many, and the figures of one."""

    elsewhere = {"learning_factor": "learning_factor"}
    index: int

    def __init__(
        self, conditions: Conditions, crew: CrewCost, supplies: Supplies, index: int, kind: Kind, count: int
    ) -> None:
        self.supplies, self.kind = supplies, kind
        self.belongs_to(conditions, crew, index, count)
        self.method, self.substrate, self.access = kind.method or "", kind.substrate, kind.access or "ground"
        self.stocks = supplies.tapes if kind.method == "tape" else supplies.meshes
        self.stretches = kind.shape.stretches(kind.sides)
        self.geometry = geometry = conditions.card.production.geometry
        self.depth = depth_of(kind, geometry)

    def belongs_to(self, conditions: Conditions, crew: CrewCost, index: int, count: int) -> None:
        """Says which part it is worked in, and how many there are; nothing is learnt yet."""
        self.conditions, self.crew = conditions, crew
        self.index, self.counted = index, count
        self.learning_factor = Fraction(1)

    @property
    def path(self) -> str:
        """kind.<n>"""
        return f"{self.prefix}kind.{self.index}"

    @property
    def outline(self) -> tuple[Any, ...]:
        """What the rules of the outline take."""
        return self.kind.shape, self.kind.sides

    def told_outline(view: Any) -> list[Any]:
        """Shape, treated sides and sizes as the first line gives them."""
        return told_outline(view)

    @property
    def counts(self) -> list[int]:
        """What the quantity is the sum of."""
        return [self.counted]

    def told_counts(view: Any) -> list[Any]:
        """The quantities of its lines."""
        lines = view.subject.request.schedule.lines
        return [view.lined(i, f"line {i + 1}", "quantity", lines[i].quantity, NUMBER) for i in view.lines_of_kind()]

    @figure("Openings of this kind", NUMBER, label=lambda view: view.marks_of_kind())
    def quantity(self) -> Step:
        return total, "Σ quantity of the priced lines of this kind", *self.counts

    @figure("Overall width", LENGTH)
    def width(self) -> Step:
        return shape_width, OUTLINE_WORDS["width"], *self.outline

    @figure("Corner factor K", NUMBER)
    def corner_factor(self) -> Step:
        return shape_corner_factor, shape_corner_factor.words, *self.outline

    @figure("Corners that take a diagonal", NUMBER)
    def corners(self) -> Step:
        return shape_corners, OUTLINE_WORDS["corners"], *self.outline

    @figures(
        lambda s, k: f"Length of the {s.stretches[k].name}",
        LENGTH,
        lambda s: range(len(s.stretches)),
        "run.{}",
        label=lambda s, k: s.stretches[k].name,
    )
    def run(self, place: int) -> Step:
        name = self.stretches[place].name
        side = [parameter("side", place)] if name == "side" else []
        return shape_run, OUTLINE_WORDS[name], STRETCHES[name], *side, *self.outline

    @figure("Perimeter treated", RUN)
    def perimeter(self) -> Step:
        runs = zip(self.run.values(), self.stretches, strict=True)
        words = "Σ length × how many, over the treated stretches"
        return sum_of_products, words, *[(length, HOW_MANY[stretch.times]) for length, stretch in runs]

    def told_depth(view: Any) -> Any:
        """Of the line, else of the request; along a pipe its own lap, else the table's."""
        kind, nm = view.subject.kind, view.subject.depth
        unsettled = view.subject.request.schedule.kinds[view.subject.index]
        if kind.is_round_pipe:
            if kind.shape.lap_on_pipe is not None:
                return view.of_first_line("lap on the pipe", "lap_on_pipe", nm, LENGTH)
            return called("lap on the pipe", view.geometry.lap_on_pipe_nm)
        if unsettled.depth_nm is not None:
            return view.of_first_line("treated depth", "treated_depth", nm, LENGTH)
        return view.request.stated("treated_depth", nm, LENGTH)

    @property
    def slope(self) -> Fraction | None:
        """The angle of a sloped sill."""
        sill = self.kind.sill
        return sill.angle_degrees if sill is not None and sill.kind == "sloped" else None

    def told_slope(view: Any) -> Any:
        """As the first line gives it."""
        slope = view.subject.slope
        return None if slope is None else view.of_first_line("slope", "sill/angle_degrees", slope, DEGREES)

    @property
    def has_sill(self) -> bool:
        """Whether the sill is treated."""
        return "sill" in self.kind.sides

    @property
    def deepens(self) -> bool:
        """Whether a sloped sill adds to the area."""
        return bool(self.slope) and any(x.name == "sill" for x in self.stretches) and bool(self.sill_extra)

    @figure("Return at the sloped sill", LENGTH, label="return at the sill", when=lambda s: s.slope is not None)
    def sill_depth(self) -> Step:
        return over_cosine, "treated depth ÷ cos(slope)", self.depth, self.slope

    @figure("Return that the slope adds", LENGTH, when=lambda s: s.deepens)
    def sill_deeper(self) -> Step:
        return difference, "return at the sill − treated depth", self.sill_depth, self.depth

    @figure("Area that the slope adds", AREA, label="of the sloped sill", when=lambda s: s.deepens)
    def sill_extra(self) -> Step:
        return product, "width × return that the slope adds", self.width, self.sill_deeper

    @property
    def back_dam(self) -> Fraction | None:
        """The height of a treated pan's back dam."""
        return self.kind.sill.back_dam_nm if self.kind.sill is not None and self.has_sill else None

    def told_back_dam(view: Any) -> Any:
        """As the first line gives it."""
        dam = view.subject.back_dam
        return None if dam is None else view.of_first_line("back dam", "sill/back_dam", dam, LENGTH)

    @figure("Treated area", AREA)
    def treated_area(self) -> Step:
        words = "P × d + P × f + f² × K: perimeter, return depth, face lap, corner factor; a sloped sill's return added"
        terms = area_terms(self.perimeter, self.depth, self.geometry.face_lap_nm, self.corner_factor)
        added: list[tuple[Fraction, ...]] = [(self.sill_extra,)] if self.deepens else []
        if self.back_dam is not None:
            words, added = f"{words}; width × back dam of a pan", [*added, (self.width, self.back_dam)]
        return sum_of_products, words, *terms, *added

    @once
    def cuts(self) -> tuple[Cut, ...]:
        """The pieces of one opening."""
        return cuts(self.stretches, int(self.corners), self.method)

    def cut_like(self, others: dict[Any, KindWork]) -> None:
        """Takes the figures of its pieces that don't follow from its size from the first of those cut alike."""
        first = others.setdefault((self.cuts, self.method, self.depth, self.kind.sill, self.has_sill), self)
        if first is not self:
            self.__dict__ |= {name: getattr(first, name) for name in OF_ITS_CUTS}

    def covered(self, name: str) -> tuple[Any, ...]:
        """Return and face lap, and a pan's back dam."""
        depth = self.sill_depth if name == "sill" and self.slope is not None else self.depth
        dam = [self.back_dam] if name == "sill" and self.back_dam is not None else []
        return depth, self.geometry.face_lap_nm, *dam

    @property
    def below_perimeter(self) -> Fraction | None:
        """The outline from which on an opening takes opening minutes."""
        row = self.production.penetration_minutes
        return None if row is None else row.below_perimeter_nm

    def told_below_perimeter(view: Any) -> Any:
        """As the production table has it."""
        row = view.production.penetration_minutes
        return None if row is None else row.below_perimeter_nm

    @figure("Whole outline", RUN, when=lambda s: s.below_perimeter is not None)
    def whole_outline(self) -> Step:
        return shape_outline, shape_outline.words, *self.outline

    @once
    def is_small(self) -> bool:
        """Whether the outline is so short that the opening is worked as a penetration."""
        return self.below_perimeter is not None and self.whole_outline < self.below_perimeter

    @once
    def opening_minutes(self) -> OpeningMinutes:
        """The table's minutes by perimeter, those of a penetration for a pipe and a small opening."""
        penetration = (self.kind.is_pipe or self.is_small) and self.production.penetration_minutes
        return penetration or self.production.opening_minutes

    def told_opening_minutes(view: Any) -> Any:
        """As the production table has them."""
        production = view.subject.production
        penetration = view.subject.opening_minutes is production.penetration_minutes
        return view.production.penetration_minutes if penetration else view.production.opening_minutes

    def plain(self) -> Step:
        """By the table that the outline, and the kind, choose."""
        if self.below_perimeter is None or self.kind.is_pipe:
            return Worked.plain(self)
        words = "the larger of the minimum and fixed + minutes by perimeter"
        least, limits = self.opening_minutes.minimum, (self.whole_outline, self.below_perimeter)
        if self.is_small:
            return larger_if_shorter, f"{words}, of a penetration: the outline is shorter", *limits, least, self.linear
        return larger_unless_shorter, f"{words}: the outline is no shorter", *limits, least, self.linear

    def addends(self) -> list[str]:
        """Plain, shape, depth, sill, extra strips, seal."""
        kind, production, large = self.kind, self.production, not self.is_small
        found = ["plain", "shape"] if production.shape and large else ["plain"]
        if production.depth_over is not None and not kind.is_pipe and large:
            found.append("depth")
        if kind.sill is not None and "sill" in kind.sides and large:
            found.append("sill")
        if production.extra_strip_minutes:
            found.append("extra_strips")
        return [*found, "seal"] if production.seal_per is not None and self.sealed else found

    @property
    def looked_up(self) -> Mapping[str, str]:
        """The words by which rows of the production table are found, by group."""
        sill = self.kind.sill
        return {"access": self.access, "shape": self.kind.shape.name, "sill": "" if sill is None else sill.kind}

    def told_looked_up(view: Any) -> Mapping[str, Any]:
        """As the first line gives them."""
        fields = {"access": "access", "shape": "shape", "sill": "sill/kind"}
        return {k: view.of_first_line(k, fields[k], word, TEXT) for k, word in view.subject.looked_up.items()}

    @property
    def has_height(self) -> bool:
        """Whether its height above grade is known, and counts."""
        return self.kind.height_above_grade_nm is not None and bool(self.production.height)

    @property
    def height(self) -> Fraction:
        """The height above grade."""
        return self.kind.height_above_grade_nm or Fraction(0)

    def told_height(view: Any) -> Any:
        """As the first line gives it."""
        return view.of_first_line("height above grade", "height_above_grade", view.subject.height, LENGTH)

    def times(self, value: Fraction) -> tuple[Fraction, Fraction]:
        """Quantity × a figure of one."""
        return self.quantity, value
