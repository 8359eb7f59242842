"""How pieces are cut, how many strips of a stock cover them, and which stock costs an opening least."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from estimating.core.cuts import Cut
from estimating.core.derivations.geometry import depth_input, face_lap
from estimating.core.derivations.nodes import Book, Input, Node, constant, parameter
from estimating.core.derivations.printing import LENGTH, MINUTES, NUMBER, RUN, TEXT
from estimating.core.derivations.scope import PartScope, word
from estimating.core.derivations.work import Work
from estimating.core.strips import Piece, Stock, piece
from rates.core.fraction import Fraction

LENGTH_WORDS = {
    "sill": ("sum_of_products", "width + 2 × turn up the jambs"),
    "jamb": ("sum", "height + turn on to the head, and where a sill is treated + turn on to the sill"),
    "head": ("sum_of_products", "width; tape + 2 × face lap"),
    "arch head": ("product", "arc × arch factor"),
    "collar": ("sum_of_products", "perimeter × collar factor + collar lap"),
    "side": ("sum", "side + one head turn"),
    "corner": ("sum", "the corner length of the table"),
    "diagonal": ("diagonal_length", "the short side where the long side fits across the stock, else the long side"),
    "joint": ("sum", "the length of the joints"),
}


def stem(work: Work, stock: Stock) -> str:
    """First words of the piece figures from a stock: short for the stock that is chosen."""
    chosen = work.choice is not None and work.choice.stock.row.code == stock.row.code
    return f"{work.name}.piece" if chosen else f"{work.name}.stock.{word(stock.row.code)}.piece"


def stock_width(work: Work, stock: Stock) -> Input:
    """The width of a mesh or tape row."""
    return work.scope.material(stock.row, "stock width", "width", stock.row.width_nm or Fraction(0), LENGTH)


def diagonal_inputs(work: Work, stock: Stock) -> list[Input]:
    """Both sides of a diagonal and the stock that it is cut from."""
    g = work.scope.card.production.geometry
    return [
        work.geometry("diagonal length", "diagonal/length", g.diagonal_length_nm),
        work.geometry("diagonal width", "diagonal/width", g.diagonal_width_nm),
        stock_width(work, stock),
    ]


def run_ref(work: Work, j: int, term: int | None = None) -> Input:
    """The stretch of outline that piece j is cut for."""
    figure = work.length if work.name == "joints" else f"{work.name}.run.{j}"
    return work.scope.ref("stretch", figure, term)


def length_inputs(work: Work, j: int, cut: Cut, stock: Stock) -> list[Input]:
    """What the length of a piece is made of."""
    g, name = work.scope.card.production.geometry, cut.name
    if name == "diagonal":
        return diagonal_inputs(work, stock)
    if name == "corner":
        return [work.geometry("corner length", "tape_corner_length", g.tape_corner_length_nm)]
    if name == "sill":
        field = "tape_sill_turn_up" if work.method == "tape" else "sill_turn_up"
        turn = g.tape_sill_turn_up_nm if work.method == "tape" else g.sill_turn_up_nm
        return [run_ref(work, j, 0), work.geometry("turn up", field, turn, 1), parameter("turns", 2, term=1)]
    if name == "head":
        laps = [work.geometry("face lap", "face_lap", g.face_lap_nm, 1), parameter("laps", 2, term=1)]
        return [run_ref(work, j, 0), *(laps if work.method == "tape" else [])]
    if name == "arch head":
        return [run_ref(work, j), work.scope.production("arch factor", "geometry/arch_factor", g.arch_factor, NUMBER)]
    if name == "collar":
        factor = work.scope.production("collar factor", "geometry/collar_factor", g.collar_factor, NUMBER, 0)
        return [run_ref(work, j, 0), factor, work.geometry("collar lap", "collar_lap", g.collar_lap_nm, 1)]
    if name == "joint":
        return [run_ref(work, j)]
    found = [run_ref(work, j), work.geometry("turn on to the head", "turn_head", g.turn_head_nm)]
    has_sill = any(run.name == "sill" for run in work.runs) or sill_is_treated(work)
    if name == "jamb" and has_sill:
        found.append(work.geometry("turn on to the sill", "turn_sill", g.turn_sill_nm))
    return found


def sill_is_treated(work: Work) -> bool:
    """Whether the sill is among the treated sides."""
    return "sill" in work.scope.part.works[int(work.name.split(".")[1])].kind.sides


def width_node(work: Work, cut: Cut, stock: Stock) -> Node:
    """The width that a piece must cover."""
    scope = work.scope
    value = cut.width_nm if cut.width_nm is not None else stock.row.width_nm or Fraction(0)
    if cut.diagonal:
        short, long = sorted((cut.length_nm, value))
        width = long if long <= (stock.row.width_nm or 0) else short
        words = "the side of the diagonal that does not go along the stock"
        inputs = partial(diagonal_inputs, work, stock)
        return Node("Width of a diagonal", words, "diagonal_width", width, LENGTH, inputs)

    def summed() -> list[Input]:
        if cut.width_nm is None:
            return [stock_width(work, stock)]
        if work.name == "joints":
            return [scope.production("width treated", "sheathing_joint/width", value, LENGTH)]
        kind = int(work.name.split(".")[1])
        sloped = cut.name == "sill" and sloped_sill(scope, kind)
        depth = scope.ref("return at the sill", f"kind.{kind}.sill_depth") if sloped else depth_input(scope, kind)
        return [depth, face_lap(scope)]

    words = "return depth + face lap; a tape corner is as wide as its stock, a joint as the table says"
    return Node(f"Width that the {cut.name} covers", words, "sum", value, LENGTH, summed)


def sloped_sill(scope: PartScope, kind: int) -> bool:
    """Whether the kind's sill slopes."""
    sill = scope.part.works[kind].kind.sill
    return sill is not None and sill.kind == "sloped"


def strip_book(work: Work, name: str, cut: Cut, stock: Stock, cut_piece: Piece) -> Book:
    """Width and strips of one piece from one stock."""
    scope = work.scope

    def widths() -> list[Input]:
        return [scope.ref("width to cover", f"{name}.cut_width"), stock_width(work, stock)]

    def lapped() -> list[Input]:
        return [*widths(), work.geometry("lap between strips", work.lap_field, work.lap_nm)]

    return {
        f"{name}.cut_width": partial(width_node, work, cut, stock),
        f"{name}.width": lambda: Node(
            f"Width of a strip of the {cut.name}",
            "the width to cover, at most the stock's",
            "minimum",
            cut_piece.width_nm,
            LENGTH,
            widths,
        ),
        f"{name}.strips": lambda: Node(
            f"Strips for the {cut.name}",
            "1 where the stock is as wide, else (width − lap) ÷ (stock − lap), rounded up",
            "strip_count",
            cut_piece.strips,
            NUMBER,
            lapped,
        ),
    }


def piece_book(work: Work, j: int, cut: Cut, stock: Stock, cut_piece: Piece) -> Book:
    """Length, width, strips and count of one piece from one stock."""
    scope, name = work.scope, f"{stem(work, stock)}.{j}"
    rule, words = LENGTH_WORDS[cut.name]
    title, lengths = f"Length of the {cut.name}", partial(length_inputs, work, j, cut, stock)
    counted = cut.name in ("corner", "diagonal")

    def each() -> Input:
        return scope.ref("corners", f"{work.name}.corners") if counted else parameter("alike", cut.count)

    return strip_book(work, name, cut, stock, cut_piece) | {
        name: lambda: Node(title, words, rule, cut_piece.length_nm, LENGTH, lengths),
        f"{name}.count": lambda: Node(
            f"Lengths cut for the {cut.name}",
            "strips × how many alike in one opening",
            "product",
            cut_piece.pieces,
            NUMBER,
            lambda: [scope.ref("strips", f"{name}.strips"), each()],
        ),
    }


def candidate_book(work: Work, stock: Stock, pieces: Sequence[Piece]) -> Book:
    """What an opening costs from one stock."""
    scope, name, of_piece = work.scope, f"{work.name}.stock.{word(stock.row.code)}", stem(work, stock)
    length = sum((p.length_nm * p.pieces for p in pieces), Fraction(0))
    extra = sum((p.strips - 1) * p.count for p in pieces)
    strip_cost = scope.card.production.extra_strip_minutes / 60 * scope.part.crew.standard_hour_cost

    def with_counts(named: str, figure: str) -> list[Input]:
        found = []
        for j in range(len(pieces)):
            of = f"{of_piece}.{j}"
            found += [scope.ref(named, f"{of}{figure}", j), scope.ref("how many", f"{of}.count", j)]
        return found

    lengths, strips = partial(with_counts, "length", ""), partial(with_counts, "strips", ".strips")

    def costs() -> list[Input]:
        price = f"material.{word(stock.row.code)}.price_after_waste"
        found = [scope.ref("length", f"{name}.length", 0), scope.ref("price after waste", price, 0)]
        return [*found, scope.ref("extra strips", f"{name}.extra_strips", 1), scope.ref("cost", "strip_cost", 1)]

    return {
        f"{name}.length": lambda: Node(
            "Length of stock for one opening", "Σ length × how many", "sum_of_products", length, RUN, lengths
        ),
        f"{name}.extra_strips": lambda: Node(
            "Strips past the first", "Σ lengths − lengths ÷ strips", "extra_strips", extra, NUMBER, strips
        ),
        f"{name}.cost": lambda: Node(
            "Cost of one opening from this stock",
            "length × lowest price after waste + extra strips × cost of a strip's minutes",
            "sum_of_products",
            length * stock.price_per_nm + extra * strip_cost,
            scope.exact_money,
            costs,
        ),
    }


def pieces_book(work: Work) -> Book:
    """Pieces from every stock that fits, and the choice of the least cost."""
    book: Book = {}
    candidates = []
    for stock in work.stocks:
        pieces = [piece(cut, stock.row, work.lap_nm) for cut in work.cuts]
        fitted = [p for p in pieces if p is not None]
        if len(fitted) < len(pieces):
            continue
        candidates.append(stock.row.code)
        book |= candidate_book(work, stock, fitted)
        for j, (cut, cut_piece) in enumerate(zip(work.cuts, fitted, strict=True)):
            book |= piece_book(work, j, cut, stock, cut_piece)
    chosen = work.choice.stock.row.code if work.choice is not None else ""

    def costs() -> list[Input]:
        return [work.scope.ref(code, f"{work.name}.stock.{word(code)}.cost") for code in candidates]

    words = "the stock of the least cost, ties to the earlier row; stock no wider than its lap is left out"
    book[f"{work.name}.stock"] = lambda: Node("Stock chosen", words, "least_cost", chosen, TEXT, costs)
    return book


def strip_cost_node(scope: PartScope) -> Node:
    """What the minutes of one extra strip cost."""
    minutes = scope.card.production.extra_strip_minutes
    value = minutes / 60 * scope.part.crew.standard_hour_cost

    def inputs() -> list[Input]:
        return [
            scope.production("minutes of an extra strip", "tape/extra_strip_minutes", minutes, MINUTES),
            scope.ref("cost of a standard hour", "hour_cost"),
            constant("minutes in an hour", 60),
        ]

    words = "minutes × cost of a standard hour ÷ 60"
    return Node("Cost of an extra strip", words, "proportion", value, scope.exact_money, inputs)
