"""Crew sheets as a printed document: large, black on white, each zone on pages of its own, no money."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from estimating.outputs.printed.blocks import (
    Block,
    Bullets,
    Column,
    Document,
    Facts,
    Heading,
    NewPage,
    Table,
    Text,
)
from estimating.outputs.printed.days import date_said
from estimating.outputs.site_documents import packs, titled
from rates.core.exact import print_quantity, print_up, read_decimal, round_half_up
from rates.core.texts import counted

Answer = Mapping[str, Any]
LARGE = 14  # points
BOX, MOST_BOXES, OF_MANY = "☐", 40, 10
OPENINGS = (
    Column("No.", 2), Column("Mark and size", 7), Column("From", 4), Column("Min. each", 3), Column("Done", 7),
)  # fmt: skip
PIECES = (
    Column("No. and mark", 5), Column("Piece", 4), Column("Pieces", 1, True), Column("Length", 4), Column("Width", 3),
    Column("Of", 8), Column("", 1, True),
)  # fmt: skip
CLOCK = (Column("Opening", 2), Column("First coat", 3), Column("Second coat", 3), Column("Started at", 5))
WEATHER = (Column("GO: all of these", 1), Column("NO GO: any of these", 1))
LOAD = (Column("Material", 6), Column("For this zone", 4), Column("Load", 5), Column("", 1, True))
SEQUENCE = "1 SILL, 2 JAMBS, 3 HEAD, then the corners. Each upper piece laps the lower one."
WRITTEN = "________"


def whole_minutes(text: str) -> str:
    """Minutes to the next whole one, half up."""
    return f"{round_half_up(read_decimal(text, max_digits=60)):,}"


def boxes(count: int) -> str:
    """A box to tick for each opening, in fives; of many one for each ten, and the rest one by one."""
    if count <= MOST_BOXES:
        return in_fives(BOX * count)
    tens, rest = divmod(count, OF_MANY)
    return f"each {OF_MANY}: {in_fives(BOX * tens)}" + (f" each 1: {in_fives(BOX * rest)}" if rest else "")


def in_fives(marks: str) -> str:
    """Marks with a space after each five."""
    return " ".join(marks[i : i + 5] for i in range(0, len(marks), 5))


def on_clock(minutes: str) -> str:
    """Minutes from the start as hours and minutes, rounded up so that no coat is early."""
    whole = -(-read_decimal(minutes, max_digits=60) // 1)
    return f"{int(whole) // 60}:{int(whole) % 60:02}"


def heading_of(sheet: Answer) -> str:
    """The zone with its number, and the part of a season split."""
    part = f", {sheet['part']}" if sheet.get("part") else ""
    return f"Zone {sheet['zone']}: {sheet['title']}{part}"


def facts(sheet: Answer) -> Facts:
    """When, who, how much."""
    days = sheet["days"]
    when = "no day is planned"
    if days:
        last = f" to {date_said(days[-1]['date'])}" if len(days) > 1 else ""
        when = f"{date_said(days[0]['date'])}{last}, {days[0]['starts']} to {days[0]['ends']}"
    hours = print_quantity(read_decimal(sheet["crew_hours"], max_digits=60), 1)
    with_it = "set-up" + (" and waiting between coats" if sheet["coats"] and waits(sheet["coats"]) else "")
    crew = ", ".join(f"{member['count']} {member['title']}" for member in sheet["crew"])
    work = f"{whole_minutes(sheet['target_minutes'])} standard minutes of work"
    target = f"{work}; {hours} h for the crew, with {with_it}"
    setup = f"{whole_minutes(sheet['setup_minutes'])} worker-minutes"
    what = counted(sheet["openings"], "opening") if sheet["openings"] else "sheathing joints"
    told = (("Work", what), ("Days", when), ("Crew", crew), ("Target", target), ("Set-up", setup))
    return Facts((*told, ("Foreman", f"{WRITTEN}{WRITTEN}   Date {WRITTEN}")))


def waits(coats: Answer) -> bool:
    """Whether the crew waits between coats."""
    return bool(read_decimal(coats["waiting_minutes"], max_digits=60))


def weather_blocks(weather: Answer) -> Iterator[Block]:
    """Go and no go side by side, and the readings to write down."""
    go, stop = list(weather["go"]), list(weather["no_go"])
    rows = [(go[i] if i < len(go) else "", stop[i] if i < len(stop) else "") for i in range(max(len(go), len(stop)))]
    yield Table("Weather", WEATHER, rows)
    if weather["lowest_from"] == "default":
        lowest = weather["lowest_temperature"]
        yield Text(f"{lowest} is from memory: the rates state no lowest temperature. The data sheet governs.")
    yield Text(f"Surface at the start {WRITTEN}, at noon {WRITTEN}, at the last coat {WRITTEN}", strong=True)


def opening_table(sheet: Answer) -> Table:
    """Openings in working order with boxes to tick."""
    rows = [
        (
            str(row["order"]),
            f"{row['mark']}  {row['size']}" + ("" if row["sides"] == "all" else f"  ({row['sides']} only)"),
            row["access"].replace("_", " "),
            whole_minutes(row["minutes_each"]),
            boxes(row["boxes"]),
        )
        for row in sheet["lines"]
    ]
    return Table("Openings in working order", OPENINGS, rows)


def piece_table(sheet: Answer) -> Table:
    """Pieces by bundle in the order that they go on; each row has the numbers of its openings, the first the mark."""
    numbers: dict[str, list[str]] = {}
    for line in sheet["lines"]:
        numbers.setdefault(line["mark"], []).append(str(line["order"]))
    rows, before = list[tuple[str, ...]](), None
    for row in sheet["pieces"]:
        of = ", ".join(numbers.get(row["mark"], []))
        name = of if row["mark"] == before and of else f"{of}  {row['mark']}".strip()
        before = row["mark"]
        joined = f" (joined of {row['joined']})" if row["joined"] > 1 else ""
        sizes = (row["length_shown"], row["width_shown"])
        rows.append((name, row["piece"] + joined, f"{row['count']:,}", *sizes, row["title"], BOX))
    return Table("Pieces, a bundle for each mark", PIECES, rows)


def coat_blocks(coats: Answer) -> Iterator[Block]:
    """How many at a time, when which coat, how long it dries."""
    interval, first = whole_minutes(coats["interval_minutes"]), whole_minutes(coats["first_coat_minutes"])
    batch = coats["batch"]
    said = [f"At least {interval} min, or the change of colour, between coats."]
    if waits(coats):
        wait = whole_minutes(coats["waiting_minutes"])
        what = counted(coats["openings"], "opening")
        said.append(f"{what} at {first} min a coat: then wait {wait} min before the second coat.")
    else:
        said.append(f"First coat on {counted(batch, 'opening')} ({first} min each), then the second in the same order.")
    said.append(f"Dry after {rounded(coats['dry_hours'])} h; the data sheet governs.")
    by_default = [words for name, words in DEFAULTS if coats[f"{name}_from"] == "default"]
    if by_default:
        said.append(f"By common practice, not stated in the rates: {', '.join(by_default)}.")
    yield Bullets(said)
    if coats["clock"]:
        rows = [(str(r["opening"]), on_clock(r["first_coat"]), on_clock(r["second_coat"]), "") for r in coats["clock"]]
        yield Table("One worker's batch, hours and minutes from its start", CLOCK, rows)


DEFAULTS = (("interval", "the interval"), ("share", "half of the time for the first coat"), ("dry", "the drying time"))


def load_table(sheet: Answer) -> Table:
    """What to load beside the bundles."""
    rows = [
        (row["title"], f"{rounded(row['quantity'])} {row['unit']}", packs(row["packs"]), BOX) for row in sheet["packs"]
    ]
    return Table("Load, beside the bundles; the rest of a pack that is begun goes on to the next zone", LOAD, rows)


def rounded(quantity: str) -> str:
    """A quantity or hours rounded up at two places."""
    return print_up(read_decimal(quantity, max_digits=60), 2)


def sheet_blocks(sheet: Answer) -> Iterator[Block]:
    """One zone, in the order in which it is read on the site."""
    yield Heading(heading_of(sheet))
    yield facts(sheet)
    yield Text(SEQUENCE, strong=True)
    yield from weather_blocks(sheet["weather"])
    if sheet["lines"]:
        yield opening_table(sheet)
    if sheet["coats"] is not None:
        yield Heading("Coats", 2)
        yield from coat_blocks(sheet["coats"])
    if sheet["pieces"]:
        yield piece_table(sheet)
    if sheet["packs"]:
        yield load_table(sheet)
    yield Heading("Cautions", 2)
    yield Bullets(sheet["cautions"])


def crew_document(sheets: Sequence[Answer], estimate: Answer, company: str, project: str) -> Document:
    """Every sheet, each from a page of its own."""
    name = titled("Crew sheets", estimate, project)
    blocks: list[Block] = []
    for place, one in enumerate(sheets):
        blocks += [NewPage()] if place else []
        blocks += sheet_blocks(one)
    if not sheets:
        blocks.append(Text("Nothing is to be done."))
    date = str(estimate["costed_at"])[:10]
    return Document(name, company, date, tuple(blocks), head=(company,), foot=name, size=LARGE, running=True)
