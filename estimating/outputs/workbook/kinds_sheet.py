"""The kinds of opening as a sheet: how many, minutes of one by what they are for, use of each material by one.

Rows of a part follow each other, so that sums of a part are sums of a stretch.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimating.core.derivations.split import Split
from estimating.core.figures.figure import word
from estimating.core.figures.printing import UNITS, in_shown_unit
from estimating.core.part import Part
from estimating.core.remarks import naming
from estimating.core.work import KindWork
from estimating.core.worked import TITLES, Worked
from estimating.outputs.workbook.formulas import literal
from estimating.outputs.workbook.numbers import number
from estimating.outputs.workbook.placing import Figures, whole
from estimating.outputs.workbook.references import cell, stretch
from rates.core.fraction import Fraction
from rates.core.grid import Cell, Cells
from rates.core.units import LENGTH_NM

KINDS, LINES = "Kinds", "Lines"
KIND, PART, WHAT, ACCESS, COUNT, PERIMETER, AREA, MINUTES = range(8)
NAMED = "Minutes: "


@dataclass(frozen=True)
class Row:
    """One kind, or the joints, of a part."""

    part: Part
    work: Worked

    @property
    def path(self) -> str:
        """The first words of its figures' names."""
        return self.work.path

    @property
    def is_joints(self) -> bool:
        """Whether it is the sheathing joints."""
        return self.work is self.part.joints


class KindsSheet:
    """Where kinds stand, and what sums over them."""

    def __init__(self, figures: Figures) -> None:
        self.figures, self.estimate = figures, figures.estimate
        self.split = Split(self.estimate)
        self.rows = [Row(part, work) for part in self.estimate.parts for work in part.every_work]
        self.addends = [name for name in TITLES if any(name in row.work.minutes for row in self.rows)]
        self.factors = list(dict.fromkeys(name for row in self.rows for name in row.work.factors))
        self.codes = list(dict.fromkeys(line.row.code for part in self.estimate.parts for line in part.materials))
        self.base = MINUTES + len(self.addends)
        self.learning = self.base + 1 + len(self.factors)
        self.touch = self.learning + 1
        self.all_touch = self.touch + 1
        self.uses = self.all_touch + 1
        self.number_of = {(row.part.conditions.place, row.work.index): n for n, row in enumerate(self.rows, 1)}
        self.settle()

    def stretch(self, column: int, part: Part, kinds_alone: bool = False) -> str:
        """A column's cells of one part; blank where it has no work."""
        places = [i for i, r in enumerate(self.rows, 2) if r.part is part and not (kinds_alone and r.is_joints)]
        return stretch(KINDS, column, places[0], places[-1]) if places else ""

    def settle(self) -> None:
        """Says where the figures of kinds stand, and by what cells their sums are."""
        for place, row in enumerate(self.rows, 2):
            for step, column in (("perimeter", PERIMETER), ("treated_area", AREA), ("base_minutes", self.base)):
                self.figures.stands(f"{row.path}.{step}", KINDS, column, place)
            self.figures.stands(f"{row.path}.touch_minutes", KINDS, self.touch, place)
        own = self.figures.own
        for part in self.estimate.parts:
            prefix = part.conditions.prefix
            own[f"{prefix}base_minutes"] = self.sum_of(part, self.base)
            own[f"{prefix}touch_minutes"] = self.sum_of(part, self.touch)
            for line in part.materials:
                if not line.by_crew_day:
                    own[f"{line.path}.net"] = self.sum_of(part, self.uses + self.codes.index(line.row.code))
            for rental in part.equipment:
                own[f"{rental.path}.touch_minutes"] = self.served(part, rental.row.for_access)
        own["openings"] = self.of_job(None)
        own |= {"perimeter": self.of_job(PERIMETER), "treated_area": self.of_job(AREA)}

    def sum_of(self, part: Part, column: int) -> str:
        """Σ count × a column."""
        counts, each = self.stretch(COUNT, part), self.stretch(column, part)
        return f"SUMPRODUCT({counts},{each})" if counts else "0"

    def served(self, part: Part, access: Sequence[str]) -> str:
        """Σ touch minutes of what is worked from some accesses."""
        named, touch = self.stretch(ACCESS, part), self.stretch(self.all_touch, part)
        texts = [name.replace('"', '""') for name in access]
        return "+".join(f'SUMPRODUCT(({named}="{text}")*{touch})' for text in texts) if named else "0"

    def of_job(self, column: int | None) -> str:
        """Σ over the kinds of every part, joints left out."""
        counts = [self.stretch(COUNT, part, True) for part in self.estimate.parts]
        each = [self.stretch(column or 0, part, True) for part in self.estimate.parts]
        terms = [
            f"SUM({many})" if column is None else f"SUMPRODUCT({many},{one})"
            for many, one in zip(counts, each, strict=True)
            if many
        ]
        return "+".join(terms) or "0"

    def sheet(self) -> list[Cells]:
        """The rows under their heading."""
        names = UNITS[self.figures.units]
        uses = [f"Use: {code}" for code in self.codes]
        head: Cells = ["Kind", "Part", "What", "Access", "Openings"]
        head += [f"Perimeter, {names['perimeter']}", f"Treated area, {names['area']}"]
        head += [f"{TITLES[name]}" for name in self.addends]
        head += ["Base minutes", *(f"Factor: {name}" for name in self.factors), "Learning factor"]
        head += ["Touch minutes of one", "Touch minutes", *uses]
        return [head, *(self.row(place, row) for place, row in enumerate(self.rows, 2))]

    def row(self, place: int, row: Row) -> Cells:
        """One kind."""
        work, count = row.work, Fraction(row.work.quantity) if isinstance(row.work, KindWork) else Fraction(1)
        minutes = [self.addend(row, name, place) for name in self.addends]
        factors: list[Cell] = [number(work.factors[name]) if name in work.factors else None for name in self.factors]
        learning = self.figures.reference(f"{row.part.conditions.prefix}learning_factor")
        at = [cell(KINDS, column, place) for column in range(self.uses)]
        scaled = [at[self.base + 1 + i] for i, name in enumerate(self.factors) if name in work.factors]
        base = f"SUM({at[MINUTES]}:{at[self.base - 1].partition('!')[2]})" if minutes else "0"
        counted = f"SUMIF({self.line_cells(5)},{at[KIND]},{self.line_cells(2)})"
        return [
            whole(place - 1),
            row.part.plan.title or (str(row.part.conditions.place + 1) if self.figures.register.several else ""),
            self.what(row),
            work.access,
            number(count, 0, "" if row.is_joints else counted),
            self.measured(row, "perimeter"),
            self.measured(row, "treated_area"),
            *minutes,
            number(work.base_minutes, None, base),
            *factors,
            number(work.learning_factor, None, learning),
            number(work.touch_minutes, None, "*".join([at[self.base], *scaled, at[self.learning]])),
            number(work.touch_minutes * count, None, f"{at[COUNT]}*{at[self.touch]}"),
            *(self.use(row, code) for code in self.codes),
        ]

    def what(self, row: Row) -> str:
        """What it is, and which marks are of it."""
        if not isinstance(row.work, KindWork):
            return "sheathing joints"
        lines = self.estimate.request.schedule.lines
        marks = naming(
            [lines[i] for i in self.figures.register.frame.worked[row.part.conditions.prefix, row.work.index]]
        )
        kind = row.work.kind
        return f"{kind.kind}, {kind.shape.name.replace('_', ' ')}, {kind.method}: {marks}"

    def measured(self, row: Row, step: str) -> Cell:
        """A length or an area of one."""
        if row.is_joints:  # their length has a name of its own; their area is no sum of openings
            return None
        node = self.figures.register.node(f"{row.path}.{step}")
        return number(in_shown_unit(Fraction(node.value), node.unit, self.figures.units, self.figures.currency)[0])

    def addend(self, row: Row, name: str, place: int) -> Cell:
        """Minutes that base minutes are the sum of."""
        if name not in row.work.minutes:
            return None
        formula = self.by_size(row, place) if name == "plain" else ""
        return number(row.work.minutes[name], None, formula)

    def by_size(self, row: Row, place: int) -> str:
        """The larger of the minimum and fixed + minutes by perimeter; blank where another rule counts."""
        node = self.figures.register.node
        plain = node(f"{row.path}.minutes.plain")
        if plain.rule != "maximum" or plain.inputs[1].figure is None:
            return ""
        least, linear = plain.inputs[0], node(plain.inputs[1].figure)
        each, length, size = node(str(linear.inputs[1].figure)).inputs
        if length.value != row.work.perimeter:
            return ""
        word_of = UNITS[self.figures.units]["perimeter"]
        ratio = Fraction(LENGTH_NM[word_of]) / Fraction(size.value)
        scale = "" if ratio == 1 else f"*{literal(ratio)}"
        text = self.figures.text
        at = cell(KINDS, PERIMETER, place)
        return f"MAX({text(least)},{text(linear.inputs[0])}+{text(each)}*{at}{scale})"

    def use(self, row: Row, code: str) -> Cell:
        """What one takes of a material."""
        if code not in row.work.use:
            return number(Fraction(0))
        node = self.figures.register.node(f"{row.path}.use.{word(code)}")
        return number(in_shown_unit(Fraction(node.value), node.unit, self.figures.units, self.figures.currency)[0])

    def line_cells(self, column: int) -> str:
        """A column's cells of all lines."""
        return stretch(LINES, column, 2, max(2, len(self.estimate.request.schedule.lines) + 1))
