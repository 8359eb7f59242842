"""The cut plan and the purchase list as printed documents: the plan without money, the list with what packs cost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from estimating.outputs.printed.amounts import print_amount
from estimating.outputs.printed.blocks import Block, Bullets, Column, Document, Facts, Heading, Table, Text
from estimating.outputs.printed.days import date_said
from rates.core.exact import print_quantity, read_decimal, with_commas
from rates.core.money import print_money, read_money
from rates.core.texts import counted

MOST_ROWS = 2_000  # of a table; the rest stands in the CSV
Answer = Mapping[str, Any]
CUT_TO = {"in": "1/8 in", "mm": "1 mm"}
ROLLS = (
    Column("Rolls", 3), Column("Lane", 1), Column("From", 2), Column("To", 2), Column("Count", 1, True),
    Column("Length", 2), Column("For", 3), Column("Left", 2),
)  # fmt: skip
BUNDLES = (
    Column("Elevation", 2), Column("Storey", 1), Column("Mark", 2), Column("Material", 4), Column("Piece", 2),
    Column("Count", 1, True), Column("Length", 2), Column("Joined of", 2, True),
)  # fmt: skip
TO_BUY = (
    Column("Material", 4), Column("Packs", 3), Column("Order by", 2), Column("Needed by", 2), Column("Amount", 1, True),
)  # fmt: skip
QUANTITIES = (
    Column("Material", 4), Column("Net", 1, True), Column("Waste", 2), Column("Gross", 1, True),
    Column("On hand", 1, True), Column("To buy", 1, True), Column("Left over", 1, True), Column("Unit", 1),
)  # fmt: skip
KEPT = (Column("Material", 3), Column("Storage", 3), Column("Not before", 2), Column("Price from", 3), Column("Of", 2))
INSTEAD = (Column("Material", 4), Column("Packs", 3), Column("Left over", 1, True), Column("Amount", 1, True))


def some(caption: str, columns: Sequence[Column], rows: Sequence[tuple[str, ...]]) -> Iterator[Block]:
    """A table of the first rows, and how many more there are."""
    yield Table(caption, columns, rows[:MOST_ROWS])
    if len(rows) > MOST_ROWS:
        yield Text(f"{len(rows) - MOST_ROWS:,} more rows stand in the table as CSV and XLSX.")


def packs(found: Sequence[Answer]) -> str:
    """Packs as they are ordered."""
    return ", ".join(f"{pack['count']:,} × {pack['size']}" for pack in found) or "none"


def name_of(row: Answer) -> str:
    """A material's title, with the part of a season split."""
    return f"{row['title']}, {row['part']}" if row.get("part") else str(row["title"])


def proof_words(material: Answer) -> str:
    """How near the plan is to the least number of rolls."""
    least = counted(material["least_rolls"], "roll")
    if material["proven"] and material["rolls"] > material["least_rolls"]:  # of several sizes
        return f"No plan costs less: {material['proof']}."
    if material["proven"]:
        return f"No plan needs fewer than {least}: {material['proof']}."
    return f"No plan needs fewer than {least} ({material['proof']}); the gap is {material['gap_percent']} %."


def number_of(row: Answer) -> str:
    """The number of a roll, or of rolls that are cut alike."""
    first, last = row["first_roll"], row["last_roll"]
    return f"{first}" if first == last else f"{first} to {last}"


def material_blocks(material: Answer, items: Sequence[Answer]) -> Iterator[Block]:
    """A material's rolls."""
    yield Heading(name_of(material))
    taken = packs(material["sizes"]) + (f", {material['from_stock']} on hand" if material["from_stock"] else "")
    yield Facts((("Rolls", taken), ("Lengths cut", f"{material['pieces']:,}"), ("Fewest", proof_words(material))))
    key = ("material", "part")
    rows = [row for row in items if all(row.get(name) == material.get(name) for name in key)]
    shown = [
        (
            f"{number_of(row)} ({row['roll']})",
            row["lane"],
            row["start_shown"],
            row["end_shown"],
            str(row["count"]),
            row["length_shown"],
            row["pieces"],
            row["rest_shown"],
        )
        for row in rows
    ]
    yield from some("Running marks from the end of the roll", ROLLS, shown)


def cut_plan_blocks(plan: Answer) -> Iterator[Block]:
    """The whole plan in its order."""
    if not plan["materials"]:
        yield Text("No mesh or tape is cut.")
    for material in plan["materials"]:
        yield from material_blocks(material, plan["items"])
    yield Heading("Bundles")
    titles = {material["material"]: material["title"] for material in plan["materials"]}
    rows = [
        (
            row["elevation"] or "",
            row["storey"] or "",
            row["mark"],
            titles.get(row["material"], row["material"]),
            row["piece"],
            f"{row['count']:,}",
            row["length_shown"],
            str(row["joined"]) if row["joined"] > 1 else "",
        )
        for row in plan["bundles"]
    ]
    yield from some("Pieces of a mark, tied by elevation and storey", BUNDLES, rows)
    yield Heading("Cautions")
    yield Bullets(plan["cautions"])


def cut_plan_document(plan: Answer, estimate: Answer, company: str, project: str) -> Document:
    """The plan for the foreman: no money."""
    unit = estimate["units"]["length"]
    name = titled("Cut plan", estimate, project)
    head = Facts((("Work date", date_said(estimate["work_date"])), ("Lengths", f"rounded up to {CUT_TO[unit]}")))
    blocks = (head, *cut_plan_blocks(plan))
    return Document(name, company, str(estimate["costed_at"])[:10], blocks, head=(company,), foot=name)


def purchase_document(rows: Sequence[Answer], estimate: Answer, company: str, project: str, invented: bool) -> Document:
    """The list for purchasing, with prices."""
    name = titled("Purchase list", estimate, project)
    mark = "For the office: shows prices." + (" Rates are invented." if invented else "")
    blocks = tuple(purchase_blocks(rows, estimate["currency"], estimate["cautions"]))
    return Document(name, company, str(estimate["costed_at"])[:10], blocks, head=(company,), foot=name, mark=mark)


def places_of(quantity: str) -> int:
    """Places to which a yard reads a quantity: two, or as many as the first digit of a smaller one needs, up to six."""
    value = abs(read_decimal(quantity, max_digits=60))
    return next((places for places in range(2, 6) if not value or value * 10**places >= 1), 6)


def readable(quantity: str) -> str:
    """A quantity as a yard reads it, thousands apart; JSON and CSV have the exact one."""
    value = read_decimal(quantity, max_digits=60)
    return with_commas(print_quantity(value, places_of(quantity)))


def titled(what: str, estimate: Answer, project: str) -> str:
    """The title of a document of an estimate."""
    return f"{what}: {project or 'estimate'}" + (f", estimate {estimate['number']}" if estimate["number"] else "")


def day_of(date: str | None) -> str:
    """A day, or that none is stated."""
    return date_said(date) if date else "not stated"


def amount_of(rows: Sequence[Answer], currency: str) -> str:
    """What all that is bought costs."""
    return print_money(sum(read_money(row["amount"], currency) for row in rows), currency)


def purchase_blocks(rows: Sequence[Answer], currency: str, cautions: Sequence[str]) -> Iterator[Block]:
    """What to buy and by when; quantities; how it is kept and where the price is from; other packs."""

    def money(text: str) -> str:
        return print_amount(read_money(text, currency), currency)

    bought = [
        (name_of(row), packs(row["packs"]), day_of(row["order_by"]), day_of(row["need_by"]), money(row["amount"]))
        for row in rows
    ]
    total = ("Total", "", "", "", money(amount_of(rows, currency)))
    yield Table(f"Packs to buy; amounts in {currency}, before freight and tax", TO_BUY, bought, total)
    quantities = [
        (
            name_of(row),
            readable(row["net"]),
            row["waste"],
            *(readable(row[name]) for name in ("gross", "stock", "needed", "left_over")),
            row["unit"],
        )
        for row in rows
    ]
    yield Table("Quantities, rounded; JSON and CSV have them exact", QUANTITIES, quantities)
    kept = [
        (
            name_of(row),
            row["storage"] or "as the data sheet says",
            date_said(row["buy_after"]) if row["buy_after"] else "",
            row["price_source"] or "",
            date_said(row["priced_on"]),
        )
        for row in rows
    ]
    yield Table("Storage, shelf life, prices", KEPT, kept)
    instead = [
        (name_of(row), packs(mix["packs"]), readable(mix["left_over"]), money(mix["amount"]))
        for row in rows
        for mix in row["alternatives"]
    ]
    if instead:
        yield Table("Packs of one size alone instead", INSTEAD, instead)
    yield Heading("Cautions")
    yield Bullets(cautions)
