"""The headings of a table as columns: each field once, sizes on the rough basis first, places that are counted."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from estimating.intake.heading_words import counts_parts, read_heading_words
from estimating.intake.headings import COUNT, OTHER, PART, Heading, understand
from estimating.intake.place_headings import LETTERS, Place, place_of_heading
from estimating.intake.place_series import places_in_series
from estimating.intake.scope_words import read_words

CARRYING = frozenset({"mark", "quantity", "width", "height", "size", "diameter", "type", "kind"})
SIZES = frozenset({"width", "height", "size", "diameter"})
MANY = frozenset({"note", "scope", "status", "property", "revision", "source", "room", "unit"})  # several columns of it
_QTY = re.compile(r"\b(?:qty|quantity|quantities|count|anzahl|menge|stk|quantité|qté|cantidad|cant)\b", re.IGNORECASE)
_OURS = re.compile(
    r"\b(?:new|base|ours?|in (?:contract|scope)|proposed|exterior|neu|nuev[oa]s?|nouveaux?|neuf)\b", re.IGNORECASE
)
_BUILDING = re.compile(
    r"\b(?:wing|tower|building|bldg|block|house|trakt|haus|aile|bâtiment|bat|edificio|ala)\b\.?", re.IGNORECASE
)
RANK = {"rough": 0, "": 1, "masonry": 2, "nominal": 3, "frame": 3, "leaf": 4, "clear": 4}


def carries(cell: str) -> bool:
    """Whether a cell is a heading that is understood, or a place that is counted."""
    return understand(cell) is not None or place_of_heading(cell) is not None


def meanings(headings: Sequence[str], lower: Sequence[str] | None = None) -> dict[int, Heading]:
    """Column -> meaning, for the columns whose heading is understood; `lower` is the last of several heading rows."""
    counted = counted_places(headings, lower)
    found: dict[int, Heading] = {}
    for column, heading in enumerate(headings):
        if column in counted:
            found[column] = Heading(COUNT, "", "", tuple(counted[column]))
            continue
        meant = understand(heading) if heading else None
        if meant is None and lower is not None and column < len(lower) and lower[column] and heading != lower[column]:
            meant = understand(lower[column])
        if meant is not None and meant.field == PART:
            meant = part_of(found.get(column - 1), meant)
        if meant is not None:
            found[column] = meant
    words = [column for column in found if len(headings[column].strip(" .")) > 1]
    if len(words) < 2:
        found = {column: found[column] for column in words}  # letters alone are marks
    return one_of_each(found)


def part_of(before: Heading | None, alone: Heading) -> Heading | None:
    """The inches that stand beside the feet of a length under a heading of their own."""
    if before is None or before.part != "feet" or alone.part != "inches":
        return None
    return replace(before, part="inches", unit="in")


def one_of_each(found: Mapping[int, Heading]) -> dict[int, Heading]:
    """Each field once: of sizes on several bases the rough one, else the first; feet and inches count as one."""
    rank = {c: RANK.get(h.basis, 1) for c, h in found.items() if h.field in SIZES}
    best = min(rank.values(), default=0)
    kept: dict[int, Heading] = {}
    taken: set[tuple[str, str]] = set()
    parted = parted_fields(found)
    ordered = sorted(
        found.items(),
        key=lambda pair: (
            rank.get(pair[0], best) > best or counts_parts(pair[1].title),
            len(pair[1].choices) > 1,
            not pair[1].sure,
            pair[0],
        ),
    )  # R.O. W goes before DOOR W on its left, whose basis no word says
    displaced: list[tuple[int, Heading]] = []  # what a heading says first goes before what another could say
    for column, heading in ordered:
        if heading.field in SIZES and rank[column] > best and heading.basis:
            kept[column] = replace(heading, field=OTHER, path=(heading.field,))
        elif (len(heading.choices) < 2 or is_whole(heading)) and (
            chosen := free(replace(heading, choices=()), taken, parted)
        ) is not None:
            kept[column] = replace(chosen, choices=heading.choices)
            taken.add((chosen.field, chosen.part if chosen.field in parted else ""))
        else:
            displaced.append((column, heading))
    for column, heading in displaced:
        if (chosen := free(heading, taken, parted)) is not None:
            if chosen.field == "mark" != heading.field and not is_whole(heading):
                chosen = replace(
                    heading, field="property", path=("property",)
                )  # STOREFRONT TYPE beside TYPE is no mark
            kept[column] = chosen
            taken.add((chosen.field, chosen.part if chosen.field in parted else ""))
    return dict(sorted(kept.items()))


def is_whole(heading: Heading) -> bool:
    """Whether every word of a heading is understood: not so of a title such as WINDOW TYPES (NORTH HALL)."""
    return not heading.title or not read_heading_words(heading.title).residue


def free(heading: Heading, taken: set[tuple[str, str]], parted: frozenset[str]) -> Heading | None:
    """The heading, with the first of its choices that no other column has; None where all are taken."""
    for name in (
        heading.field,
        *(choice for choice in heading.choices if choice not in (heading.field, "count_at", "length")),
    ):
        one = heading if name == heading.field else replace(heading, field=name, path=(name,))
        key = (name, heading.part if name in parted else "")
        if name == COUNT or name in MANY:
            return replace(one, field="type") if name != heading.field and ("type", "") not in taken else one
        if key not in taken and not (name == "size" and taken & {("width", ""), ("height", "")}):
            return one
    return None


def parted_fields(found: Mapping[int, Heading]) -> frozenset[str]:
    """The lengths whose feet and inches each have a column."""
    feet, inches = ({h.field for h in found.values() if h.part == part} for part in ("feet", "inches"))
    return frozenset(feet & inches)


def counted_places(headings: Sequence[str], lower: Sequence[str] | None) -> dict[int, Place]:
    """The columns that count by place: two full names at least, several letters of N S E W, or storeys in a row."""
    places = {c: place for c, h in enumerate(headings) if h and (place := place_of_heading(h)) is not None}
    below = below_counts(headings, lower)
    series = places_in_series(headings) | places_in_series(below)
    series |= {c: place for c, text in enumerate(below) if text and (place := place_of_heading(text)) is not None}
    places |= series | under(headings, lower) | numbered(headings, lower) | counted_apart(headings)
    plain_heads = [
        " ".join((text or h).lower().replace(".", " ").split()) for h, text in zip(headings, below, strict=True)
    ]
    pairs = list(enumerate(pairwise(plain_heads)))
    widths = {c for c, pair in pairs if pair == ("w", "h")} or {c + 1 for c, pair in pairs if pair == ("h", "w")}
    places = {c: place for c, place in places.items() if c not in widths}  # a W beside an H is no West
    letters = {c: LETTERS[h] for c, h in enumerate(plain_heads) if h in LETTERS and c not in widths}
    if len({"North", "South", "East"} & set(letters.values())) >= 2:
        places |= {c: Place(elevation=name) for c, name in letters.items()}
    plain = {
        c: place
        for c, place in places.items()
        if c in letters or c in series or place == Place() or may_count(headings[c])
    }
    if (
        len(plain) == 1
        and len(headings[next(iter(plain))].strip()) > 2
        and not any(says_otherwise(h, next(iter(plain.values()))) for h in headings if h)
    ):
        return plain
    return plain if len(plain) >= 2 else {}


def says_otherwise(heading: str, place: Place) -> bool:
    """Whether a heading says that one place beside it counts nothing: QTY, or FACADE beside NORTH."""
    meant = understand(heading)
    return meant is not None and (
        meant.field == "quantity" or (meant.field == "elevation" and place == Place(elevation=place.elevation))
    )


def under(headings: Sequence[str], lower: Sequence[str] | None) -> dict[int, Place]:
    """Storeys in the last heading row under an elevation or a building above them: EAST WING over L2-L4 (ea.)."""
    found: dict[int, Place] = {}
    for column, text in enumerate(lower or ()):
        upper = headings[column].removesuffix(text).strip() if text and column < len(headings) else ""
        storey = place_of_heading(text) if upper else None
        if storey is None or storey != Place(storey=storey.storey) or not storey.storey:
            continue
        over = place_of_heading(upper) or (Place(building=upper) if _BUILDING.search(upper) else None)
        if over is not None and not over.storey:
            found[column] = over._replace(storey=storey.storey)
    return found


def below_counts(headings: Sequence[str], lower: Sequence[str] | None) -> list[str]:
    """The last heading row where a heading of counts stands above it, else blank: N and S, 1st and 2nd under COUNT."""
    found = []
    for column, heading in enumerate(headings):
        text = lower[column] if lower is not None and column < len(lower) else ""
        group = heading.removesuffix(text).strip() if text else ""
        meant = understand(group) if group else None
        found.append(text if meant is not None and meant.field == "quantity" else "")
    return found


def counted_apart(headings: Sequence[str]) -> dict[int, Place]:
    """Columns of counts by scope, QTY (EXISTING) and QTY (NEW), where none is the count alone: lines of their own."""
    said = {c: understand(h) for c, h in enumerate(headings) if h and _QTY.search(h)}
    counts = [c for c, meant in said.items() if meant is None or "quantity" in meant.choices]
    out = [c for c in counts if read_words(headings[c]).of("scope")]
    named = [c for c in counts if c in out or _OURS.search(headings[c])]
    return {c: Place() for c in counts} if out and len(named) == len(counts) > 1 else {}


def may_count(heading: str) -> bool:
    """Whether a heading that names a place means no field that a line is made of."""
    meant = understand(heading)
    return meant is None or (not meant.sure and meant.field not in CARRYING)


def numbered(headings: Sequence[str], lower: Sequence[str] | None) -> dict[int, Place]:
    """Storeys that are numbers under a heading such as FLOOR: its own place and the number."""
    found: dict[int, Place] = {}
    for column, text in enumerate(lower or ()):
        if text.isascii() and text.isdigit() and len(text) < 3 and column < len(headings):
            group = headings[column].removesuffix(text).strip()
            meant = understand(group) if group else None
            if meant is not None and meant.field in ("storey", "quantity"):
                found[column] = Place(storey=text)
            elif group and (place := place_of_heading(group)) is not None and not place.storey:
                found[column] = place._replace(storey=text)
    return found


def worth(columns: Mapping[int, Heading]) -> int:
    """How much a heading row says: fields, those that carry a line three times, and the units and bases with them."""
    return sum(
        (3 if heading.field in CARRYING or heading.field == COUNT else 2) + bool(heading.unit) + bool(heading.basis)
        for heading in columns.values()
    )


def first_of_repetitions(headings: Sequence[str], columns: Mapping[int, Heading]) -> list[int]:
    """The first columns of the same headings set side by side: where the mark's comes again with a size or count."""
    plain = [" ".join(heading.upper().split()) for heading in headings]
    lead = next((c for c, h in sorted(columns.items()) if h.field in ("mark", "type")), None)
    if lead is None:
        return [0]
    again = [c for c, text in enumerate(plain) if text and text == plain[lead] and c > lead]
    bounds = [lead, *again, len(plain)]
    parts = [{text for text in plain[a:b] if text} for a, b in zip(bounds, bounds[1:], strict=False)]
    if not again or any(len(part & parts[0]) < 2 for part in parts[1:]):
        return [0]
    return [0, *again]
