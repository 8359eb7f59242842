"""Field tables of the materials, equipment and overheads tables of an edition; labour_table has that of labour."""

from __future__ import annotations

from rates.core.fields import (
    Faults,
    Field,
    ListOf,
    MapOf,
    Reader,
    Record,
    boolean,
    choice,
    clean_text,
    date,
    decimal,
    measure,
    percent,
    text,
    whole,
)
from rates.core.fraction import Fraction
from rates.core.problems import Problem, Unreadable
from rates.core.rows import (
    NO_WASTE,
    EquipmentRow,
    MaterialRow,
    OverheadRow,
    PackRow,
    RentalRow,
    TierRow,
    Waste,
    by_fields,
)
from rates.core.steps import ALL_BASES, PROFIT, ROW_STEPS
from rates.core.temperatures import read_temperature
from rates.core.units import read_coverage, read_length, read_pack_size

ACCESS = (
    "ground",
    "step_ladder",
    "ladder",
    "extension_ladder",
    "rolling_scaffold",
    "frame_scaffold",
    "lift",
    "swing_stage",
)
BARRIERS = ("fluid", "sheet", "none")
SUBSTRATES = ("gypsum_sheathing", "cement_board", "plywood", "osb", "cmu", "concrete", "steel")
ROLES = ("liquid", "mesh", "tape", "primer", "sealant", "backer_rod", "consumable")
PERIODS = ("day", "week", "month")

length = measure(lambda written: read_length(written).nm)
length_or_zero = measure(lambda written: read_length(written).nm, above=False)
money = decimal(0, 10**9)
temperature = Reader(lambda raw: read_temperature(clean_text(raw, 20)), {"title": "Temperature", "type": "string"})
TAIL = (
    Field("cost_code", text(40), "cost code, a specification section number of the company's map"),
    Field("source", text(300), "where the number came from"),
    Field("note", text(1000), "a note"),
)
HEAD = (
    Field("code", text(60), "the row's code, unique in its table", required=True),
    Field("title", text(200), "the row's title", required=True),
)


def check_waste(waste: Waste, pointer: str, faults: Faults) -> None:
    """All of a material lost can't be bought for."""
    if waste.kind == "lost" and waste.rate >= 1:
        faults.append(Problem(pointer + "/percent", "waste_lost_whole", "a share lost must be less than 100 %"))


WASTE = Record(
    lambda kind, percent: Waste(kind, percent),
    (
        Field("kind", choice("added", "lost"), "added to the net quantity, or lost of the gross", required=True),
        Field("percent", percent(), "percentage", required=True),
    ),
    check_waste,
)


def parse_pack(raw: object) -> tuple[str, str, Fraction]:
    """(label, dimension, size) of a pack size such as "150 ft", "5 gal" or "1 each"."""
    label = clean_text(raw, 64)
    dimension, size = read_pack_size(label)
    if size <= 0:
        raise Unreadable("too_small", "a pack holds more than 0")
    return label, dimension, size


PACK = Record(
    lambda size, price: PackRow(size[0], size[1], size[2], price),
    (
        Field(
            "size", Reader(parse_pack, {"type": "string"}), "what a pack holds: length, volume or each", required=True
        ),
        Field("price", money, "price of a pack", required=True),
    ),
)

# role -> (dimension of its packs, fields it needs, fields it may have)
ROLE_FIELDS: dict[str, tuple[str, tuple[str, ...], tuple[str, ...]]] = {
    "liquid": ("volume", ("wet_film",), ("solids_percent", "coverage")),
    "mesh": ("length", ("width",), ()),
    "tape": ("length", ("width",), ("compatible_with",)),
    "primer": ("volume", ("apply", "coverage"), ("edge_width", "substrates")),
    "sealant": ("volume", (), ()),
    "backer_rod": ("length", ("diameter",), ()),
    "consumable": ("each", ("per",), ()),
}
ROLE_OWN = tuple(dict.fromkeys(name for _, needed, optional in ROLE_FIELDS.values() for name in (*needed, *optional)))


def check_material(row: MaterialRow, pointer: str, faults: Faults) -> None:
    """Each role has its own fields and sells by its own dimension."""
    lowest, highest = row.lowest_temperature_fahrenheit, row.highest_temperature_fahrenheit
    if lowest is not None and highest is not None and highest <= lowest:
        faults.append(Problem(f"{pointer}/highest_temperature", "order", "this is not above the lowest temperature"))
    dimension, needed, optional = ROLE_FIELDS[row.role]
    given = {
        name
        for name in ROLE_OWN
        if any(getattr(row, n, None) is not None for n in (name, f"{name}_nm", f"{name}_per_nm"))
    }
    if row.role == "primer" and row.apply == "edge":
        needed = (*needed, "edge_width")
    for name in needed:
        if name not in given:
            faults.append(Problem(f"{pointer}/{name}", "missing", f"a {row.role} row needs {name}"))
    for name in sorted(given - set(needed) - set(optional)):
        faults.append(Problem(f"{pointer}/{name}", "not_for_role", f"a {row.role} row has no {name}"))
    for i, pack in enumerate(row.packs):
        if pack.dimension != dimension:
            faults.append(
                Problem(f"{pointer}/packs/{i}/size", "wrong_dimension", f"a {row.role} is sold by {dimension}")
            )


MATERIALS = Record(
    by_fields(MaterialRow),
    (
        *HEAD,
        Field("role", choice(*ROLES), "what the material does", required=True),
        Field("packs", ListOf(PACK, 1, 12), "packs as sold", required=True),
        Field("waste", WASTE, "waste", default=NO_WASTE),
        Field("waste_by_temperature", MapOf(WASTE), "replaces waste at a named temperature", default=()),
        Field("taxable", boolean(), "whether sales tax falls on it", default=True),
        Field("price_as", choice("bought", "used"), "whole packs, or the share used", default="bought"),
        Field("wet_film", ListOf(length, 1, 6), "wet film of each coat"),
        Field("solids_percent", decimal(0, 100, above=True), "solids by volume"),
        Field("coverage", measure(read_coverage, title="Coverage"), "area a volume covers, as the data sheet says"),
        Field("width", length, "stock width"),
        Field("apply", choice("edge", "bonded_area"), "where primer goes"),
        Field("edge_width", length, "width of the primed edge"),
        Field("substrates", ListOf(choice(*SUBSTRATES), 1), "substrates the primer is for; all if absent"),
        Field("diameter", length, "rod diameter"),
        Field("compatible_with", ListOf(choice(*BARRIERS), 1), "wall barriers that a tape holds on; for checks only"),
        Field("per", choice("opening", "crew_day"), "what a consumable is counted by"),
        Field("lead_days", whole(0, 3650), "calendar days from order to delivery; for the purchase list"),
        Field("shelf_life_days", whole(1, 36500), "calendar days that it keeps; for the purchase list"),
        Field("storage", text(200), "how it is stored, with the temperatures of the data sheet"),
        Field("lowest_temperature", temperature, "below which it is not put on, as the data sheet says"),
        Field("highest_temperature", temperature, "above which it is not put on, as the data sheet says"),
        Field("priced_on", date(), "day of the price; that of the edition if absent"),
        *TAIL,
    ),
    check_material,
)


def check_equipment(row: EquipmentRow, pointer: str, faults: Faults) -> None:
    """What is not owned is rented."""
    if not row.rental and not row.owned:
        faults.append(Problem(f"{pointer}/rental", "missing", "rental is needed: rental prices, or owned: true"))


EQUIPMENT = Record(
    by_fields(EquipmentRow),
    (
        *HEAD,
        Field("for_access", ListOf(choice(*ACCESS), 1), "kinds of access it serves", required=True),
        Field(
            "rental",
            ListOf(
                Record(
                    RentalRow,
                    (
                        Field("period", choice(*PERIODS), "rental period", required=True),
                        Field("price", money, "price of the period", required=True),
                    ),
                ),
                1,
                3,
            ),
            "rental prices; not needed where it is owned",
            default=(),
        ),
        Field("delivery", money, "delivery and pickup, for each unit and mobilisation", default=Fraction(0)),
        Field("per_workers", whole(1, 1000), "workers that one unit serves; one unit if absent"),
        Field(
            "days_from",
            choice("touch", "crew_days"),
            "days by touch minutes, or as a share of the crew-days with set-up and charged idle time",
            default="touch",
        ),
        Field("owned", boolean(), "the company owns it, so no rental is missed", default=False),
        *TAIL,
    ),
    check_equipment,
)


def check_overhead(row: OverheadRow, pointer: str, faults: Faults) -> None:
    """Exactly one of percent, amount, tiers; exactly one base, one that the step can have."""
    step, states = ROW_STEPS[row.step], {"percent": row.rate, "amount": row.amount, "tiers": row.tiers}
    stated = [name for name, value in states.items() if value is not None]
    if len(stated) != 1 or stated[0] not in step.takes:
        faults.append(Problem(pointer, "one_of", f"a {row.step} row takes exactly one of {', '.join(step.takes)}"))
        return
    bases = step.amount_bases if stated[0] == "amount" else step.bases
    if row.on is not None and row.on not in bases:
        detail = f"one of {', '.join(bases)} is expected" if bases else "this row has no base"
        faults.append(Problem(pointer + "/on", "wrong_base", detail))
    if row.on is None and stated[0] != "amount" and step.base_stated:
        faults.append(Problem(pointer + "/on", "missing", f"the base is needed: one of {', '.join(bases)}"))
    if (row.kind is not None) != (step.stage == PROFIT):
        unsaid = ("missing", "say whether profit is a markup on cost or a margin of the price")
        code, detail = unsaid if row.kind is None else ("not_for_step", "only a profit row has this")
        faults.append(Problem(pointer + "/kind", code, detail))
    if row.kind == "margin" and row.on not in ("cost", "running"):
        faults.append(Problem(pointer + "/on", "wrong_base", "a margin is on cost"))
    if row.step == "round_up_to" and row.amount == 0:
        faults.append(Problem(pointer + "/amount", "too_small", "must be more than 0"))
    check_tiers(row, pointer, faults)


def check_tiers(row: OverheadRow, pointer: str, faults: Faults) -> None:
    """Tiers rise and the last has no end."""
    tiers = row.tiers or ()
    for i, tier in enumerate(tiers):
        at = f"{pointer}/tiers/{i}/up_to"
        if (tier.up_to is None) != (i == len(tiers) - 1):
            faults.append(Problem(at, "open_tier", "the last tier has no upper end (null); all others have one"))
        elif i and tier.up_to is not None and tier.up_to <= (tiers[i - 1].up_to or 0):
            faults.append(Problem(at, "not_rising", "each tier ends above the one before it"))


OVERHEADS = Record(
    lambda percent, **values: OverheadRow(rate=percent, **values),
    (
        *HEAD,
        Field("step", choice(*ROW_STEPS), "step of the build-up", required=True),
        Field("percent", percent(), "percentage of the base"),
        Field("amount", money, "an amount"),
        Field(
            "tiers",
            ListOf(
                Record(
                    lambda up_to, percent: TierRow(up_to, percent),
                    (
                        Field("up_to", decimal(0, 10**12, above=True), "price up to which it counts; null: no end"),
                        Field("percent", percent(100), "percentage", required=True),
                    ),
                ),
                1,
                20,
            ),
            "rates by cumulative price",
        ),
        Field("on", choice(*ALL_BASES), "the base"),
        Field("kind", choice("markup", "margin"), "of profit: on cost, or of the price"),
        *TAIL,
    ),
    check_overhead,
)
