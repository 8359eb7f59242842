"""Net use of each material by one opening of a kind, or by the sheathing joints."""

from __future__ import annotations

from functools import partial

from estimating.core.derivations.nodes import Book, Input, Node, parameter
from estimating.core.derivations.printing import COVERAGE, LENGTH, NUMBER, RUN, TEXT
from estimating.core.derivations.scope import PartScope, word
from estimating.core.derivations.work import Work
from rates.core.fraction import Fraction
from rates.core.rows import MaterialRow

WORDS = {
    "stock": ("chosen", "the length of the stock that is chosen"),
    "liquid": ("product", "treated area × total wet film"),
    "edge": ("proportion", "perimeter × edge width ÷ coverage"),
    "bonded_area": ("quotient", "treated area ÷ coverage"),
    "sealant": ("product", "length of the bead × joint width × joint depth"),
    "backer_rod": ("sum", "the length of the bead"),
    "consumable": ("given", "one for each opening"),
}


def use_kind(row: MaterialRow) -> str:
    """Which of the rules above a row follows."""
    if row.role == "primer":
        return row.apply or "edge"
    return "stock" if row.role in ("mesh", "tape") else row.role


def stock_inputs(work: Work, row: MaterialRow) -> list[Input]:
    """The chosen stock, this row, and its length."""
    scope, name = work.scope, f"{work.name}.stock"
    return [
        scope.ref("stock chosen", name),
        scope.material(row, "this stock", "code", row.code, TEXT),
        scope.ref("length", f"{name}.{word(row.code)}.length"),
    ]


def primer_inputs(work: Work, row: MaterialRow) -> list[Input]:
    """The primed area over the coverage."""
    scope = work.scope
    coverage = scope.material(row, "coverage", "coverage", row.coverage_per_nm or Fraction(1), COVERAGE)
    if row.apply != "edge":
        return [scope.ref("treated area", work.area), coverage]
    width = scope.material(row, "edge width", "edge_width", row.edge_width_nm or Fraction(0), LENGTH)
    return [scope.ref("length", work.length), width, coverage]


def seal_inputs(work: Work, row: MaterialRow) -> list[Input]:
    """The bead, and for the sealant the joint that it fills."""
    scope, seal = work.scope, work.scope.request.seal
    found = [scope.ref("bead", f"{work.name}.bead")]
    if row.role == "backer_rod" or seal is None:
        return found
    return [
        *found,
        scope.asked("joint width", "/perimeter_seal/width", seal.width_nm, LENGTH),
        scope.asked("joint depth", "/perimeter_seal/depth", seal.depth_nm, LENGTH),
    ]


def use_inputs(work: Work, row: MaterialRow) -> list[Input]:
    """What the use of one row is reckoned from."""
    rule = use_kind(row)
    if rule == "stock":
        return stock_inputs(work, row)
    if rule == "liquid":
        film = f"material.{word(row.code)}.film"
        return [work.scope.ref("treated area", work.area), work.scope.ref("wet film", film)]
    if row.role == "primer":
        return primer_inputs(work, row)
    if rule == "consumable":
        return [parameter("each opening", 1)]
    return seal_inputs(work, row)


def use_node(work: Work, row: MaterialRow, amount: Fraction) -> Node:
    """Net use of one row."""
    rule, words = WORDS[use_kind(row)]
    unit = work.scope.unit_of(row)
    return Node(f"Net use of {row.title}", words, rule, amount, unit, partial(use_inputs, work, row))


def bead_book(scope: PartScope, n: int) -> Book:
    """The length of bead and rod, where the perimeter seal is done."""
    work, seal, name = scope.part.works[n], scope.request.seal, f"kind.{n}"
    if not work.takeoff.bead_nm or seal is None:
        return {}
    gaps = seal.weep_count * seal.weep_length_nm
    with_gaps = bool(gaps) and work.kind.shape.has_sill and "sill" in work.kind.sides

    def inputs() -> list[Input]:
        perimeter = scope.ref("perimeter", f"{name}.perimeter")
        return [perimeter, scope.ref("weep gaps", f"{name}.weeps")] if with_gaps else [perimeter]

    def weeps() -> list[Input]:
        return [
            scope.asked("gaps", "/perimeter_seal/weeps/count", seal.weep_count, NUMBER),
            scope.asked("length of a gap", "/perimeter_seal/weeps/length", seal.weep_length_nm, LENGTH),
        ]

    words = "perimeter − weep gaps, at least 0" if with_gaps else "the perimeter; gaps only where a sill is treated"
    rule = "shortfall" if with_gaps else "sum"
    book: Book = {f"{name}.bead": lambda: Node("Length of the bead", words, rule, work.takeoff.bead_nm, RUN, inputs)}
    if with_gaps:
        book[f"{name}.weeps"] = lambda: Node("Weep gaps", "gaps × length of a gap", "product", gaps, LENGTH, weeps)
    return book


def use_book(work: Work) -> Book:
    """Net use of every row that the work takes."""
    rows = {row.code: row for row in work.scope.card.materials}
    return {f"{work.name}.use.{word(code)}": partial(use_node, work, rows[code], amount) for code, amount in work.use}
