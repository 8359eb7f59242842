"""Random sheets of openings; each cell knows where it may end: as a person would say, not as the reader does.

title rows > heading > lines, sections, spacers, headings again > total > notes below; columns in any order and wording
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field

FIELD, FACT, QUESTION, SET_ASIDE = "field", "fact", "question", "set_aside"
BESIDE = frozenset({FACT, SET_ASIDE})  # titles, notes, units: understood, or put aside with a reason
READ = frozenset({FIELD})
NOTED = frozenset({FIELD, SET_ASIDE})  # a harmless remark: kept as a note of its line, or set aside
ASKED = frozenset({QUESTION})
COUNTED = frozenset({FIELD, QUESTION})  # a count that is understood may be taken or asked about
TOTAL = frozenset({FACT})

HEADINGS = {
    "mark": ("Mark", "MARK", "Tag", "Mark No."), "kind": ("Kind", "Type", "TYPE"),
    "quantity": ("Qty", "QTY.", "Quantity", "Count"), "width": ("Width", "RO Width", "Rough Opening Width"),
    "height": ("Height", "RO Height", "Rough Opening Height"), "size": ("Size", "Rough Opening", "RO Size (W x H)"),
    "elevation": ("Elevation", "Elev.", "ELEV"), "storey": ("Level", "Floor", "Storey"),
    "note": ("Remarks", "Comments", "NOTES"),
}  # fmt: skip
EXTRAS = {
    "Glazing": ("GL-1", "GL-2"), "Finish": ("AL-2", "clear anodized", "paint"), "Frame": ("F1", "F2"),
    "Hardware": ("HW-1", "HW-7"), "Manufacturer": ("Invented Sash Works", "Invented Glass Works"),
}  # fmt: skip
HARMLESS = ("tempered", "obscure glass", "laminated", "egress", "clear anodized", "insect screen")
SCOPE = (
    "NIC", "N.I.C.", "by others", "existing to remain", "future", "deleted", "not used", "void", "by owner",
    "not in contract", "Alternate 1", "Deduct Alt. 2", "bauseits", "entfällt", "hors lot", "existant", "por otros",
    "existente", "by mechanical contractor",
)  # fmt: skip
SHAPES = ("half round", "arched", "segmental top", "eyebrow", "round", "oval", "octagon", "triangular", "trapezoid")
COUNTS = ("TYP x 4", "typ floors 2-5", "pair", "4 buildings thus")
SECTIONS = ("North elevation", "Level 2", "WINDOWS", "South Elevation", "2nd Floor")
SCOPE_SECTIONS = ("NOT IN CONTRACT", "ALTERNATE NO. 2", "BY OTHERS", "EXISTING TO REMAIN", "FUTURE PHASE")
TITLES = ("WINDOW SCHEDULE", "Juniper Yard (invented) - openings", "Issue 3, rough openings")
NOTES = ("All glass tempered.", "See specifications for sealants.", "Verify dimensions in field.")
KINDS = ("Window", "Door", "Louver")


@dataclass(frozen=True)
class Cell:
    """A cell: its text and where it may end."""

    text: str
    ends: frozenset[str]


@dataclass(frozen=True)
class Line:
    """What a row of the table says of its line, where its words leave that untouched."""

    mark: str
    quantity: int | None
    width: str
    height: str
    elevation: str | None = None


@dataclass
class RandomSheet:
    """A sheet: rows of cells by column, its lines by the number of their row (from 1), its headings' rows.

    comments: on cells by row (from 1) and column; page: what the page carries above. A workbook alone has these.
    """

    rows: list[dict[int, Cell]] = field(default_factory=list)
    comments: dict[tuple[int, int], Cell] = field(default_factory=dict)
    page: str = ""
    lines: dict[int, Line] = field(default_factory=dict)
    headings: list[int] = field(default_factory=list)
    columns: tuple[str, ...] = ()

    def texts(self) -> list[list[str]]:
        """The rows as texts, all of one width."""
        width = len(self.columns)
        return [[row[c].text if c in row else "" for c in range(width)] for row in self.rows]


class Maker:
    """Makes one random sheet of a seed."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        self.sheet = RandomSheet()
        self.columns = self.choose_columns()
        self.sheet.columns = tuple(self.columns)
        self.headings = {c: Cell(self.heading(name), BESIDE) for c, name in enumerate(self.columns)}
        self.unit = self.chance.choice(("feet", "in", "mm"))
        self.total = 0
        self.asked_total = False

    def choose_columns(self) -> list[str]:
        """The columns in a random order: all that a line needs, and some that it doesn't."""
        size = ["size"] if self.chance.random() < 0.3 else ["width", "height"]
        more = self.chance.sample(["elevation", "storey", "note", *EXTRAS], self.chance.randint(1, 5))
        columns = ["mark", "kind", "quantity", *size, *more]
        self.chance.shuffle(columns)
        return columns

    def heading(self, name: str) -> str:
        """A heading in one of its wordings."""
        return self.chance.choice(HEADINGS[name]) if name in HEADINGS else name

    def make(self) -> RandomSheet:
        """Titles, headings, lines with what stands between them, a total, notes."""
        for title in self.chance.sample(TITLES, self.chance.randint(0, 2)):
            self.row({0: Cell(title, BESIDE)})
            self.spacer(0.5)
        self.put_headings()
        for number in range(self.chance.randint(3, 12)):
            self.between(number)
            self.line(number)
        self.end()
        self.put_parts()
        return self.sheet

    def put_parts(self) -> None:
        """What stands beside the cells: a comment on a mark, a page header."""
        place = (self.chance.choice(sorted(self.sheet.lines)), self.columns.index("mark"))
        if self.chance.random() < 0.5:
            said = self.chance.choice((Cell("NIC", ASKED), Cell("checked on Monday", NOTED)))
            self.sheet.comments[place] = said
        if self.chance.random() < 0.5:
            self.sheet.page = "Invented Heights - sheet A-601"

    def row(self, cells: dict[int, Cell]) -> int:
        """Puts a row; its number."""
        self.sheet.rows.append(cells)
        return len(self.sheet.rows)

    def spacer(self, likely: float) -> None:
        """An empty row, now and then."""
        if self.chance.random() < likely:
            self.row({})

    def put_headings(self) -> None:
        """The row of headings."""
        self.sheet.headings.append(self.row(dict(self.headings)))

    def between(self, number: int) -> None:
        """What may stand before a line: nothing mostly, a spacer, a section, the headings again."""
        drawn = self.chance.random()
        if drawn < 0.05:
            self.row({})
        elif drawn < 0.12:
            self.row({0: Cell(self.chance.choice(SECTIONS), BESIDE | READ)})
        elif drawn < 0.15:
            self.row({0: Cell(self.chance.choice(SCOPE_SECTIONS), ASKED)})
            self.asked_total = True
        elif drawn < 0.18 and number > 2:
            self.put_headings()

    def line(self, number: int) -> None:
        """One line; a third of the remarks say something of scope, shape or count."""
        width, height = self.chance.sample(range(24, 97, 2), 2)
        said = Line(f"W{number + 1}", self.chance.randint(1, 9), self.size(width), self.size(height))
        cells = {c: cell for c, name in enumerate(self.columns) if (cell := self.cell(name, said)) is not None}
        place = self.row(cells)
        written = {name: cells[c].text for c, name in enumerate(self.columns) if c in cells}
        count = None if written.get("note") in COUNTS else said.quantity
        if count is None:
            cells[self.columns.index("quantity")] = Cell(str(said.quantity), COUNTED)
        self.sheet.lines[place] = Line(said.mark, count, said.width, said.height, written.get("elevation"))
        self.total += int(written["quantity"])
        self.asked_total = self.asked_total or written.get("note") in (*SCOPE, *SHAPES, *COUNTS)

    def size(self, inches: int) -> str:
        """A length in the unit of the sheet, always with its unit."""
        return {"feet": f"{inches // 12}'-{inches % 12}\"", "in": f"{inches} in", "mm": f"{inches * 25} mm"}[self.unit]

    def cell(self, name: str, line: Line) -> Cell | None:
        """One cell of a line; None for an empty one."""
        if name == "note":
            return self.remark()
        if name in EXTRAS:
            return Cell(self.chance.choice(EXTRAS[name]), NOTED) if self.chance.random() < 0.8 else None
        plain = {
            "mark": line.mark, "quantity": str(line.quantity), "width": line.width, "height": line.height,
            "size": f"{line.width} x {line.height}", "kind": self.chance.choice(KINDS),
            "elevation": self.chance.choice(("North", "South", "East", "West")), "storey": self.chance.choice("123"),
        }  # fmt: skip
        return Cell(plain[name], READ)

    def remark(self) -> Cell | None:
        """A remark: none, harmless, or one that has to be asked about."""
        drawn = self.chance.random()
        if drawn < 0.4:
            return None
        if drawn < 0.7:
            return Cell(self.chance.choice(HARMLESS), NOTED)
        if drawn < 0.85:
            return Cell(self.chance.choice(SCOPE), ASKED)
        return Cell(self.chance.choice(SHAPES), ASKED) if drawn < 0.95 else Cell(self.chance.choice(COUNTS), COUNTED)

    def end(self) -> None:
        """A total that agrees or not, and notes below."""
        at = {name: c for c, name in enumerate(self.columns)}
        if self.chance.random() < 0.3 and at["quantity"] != 0:
            wrong = self.chance.random() < 0.3
            ends = TOTAL | ASKED if self.asked_total else ASKED if wrong else TOTAL
            number = Cell(str(self.total + 3 * wrong), ends)
            self.row({0: Cell("Total", TOTAL | BESIDE | ASKED), at["quantity"]: number})
        if self.chance.random() < 0.4:
            self.row({})
            for note in self.chance.sample(NOTES, self.chance.randint(1, 2)):
                self.row({0: Cell(note, BESIDE)})
            if self.chance.random() < 0.3:
                self.row({0: Cell("Note: W2 is existing to remain.", ASKED)})


def make_sheet(seed: int) -> RandomSheet:
    """The random sheet of a seed."""
    return Maker(seed).make()
