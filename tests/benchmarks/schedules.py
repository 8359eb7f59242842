"""The schedules that the benchmarks cost, invented: one as an office's files have it, and a tidy one beside it.

office: storeys such as "Level 1", elevations as words, marks with spaces, an id on each line, a remark on one in three,
    three ways of access. Fields that a line has nothing for are left out, as reading a file leaves them out.
tidy: marks and places of one plain word, no id, no remark, all reached from the ground, as the yardstick's schedule.
"""

from __future__ import annotations

import json
import random
import uuid
from collections.abc import Callable, Sequence
from typing import Any, TypeVar

Line = dict[str, Any]
Size = tuple[str, str, str]
T = TypeVar("T")
ELEVATIONS = ("North", "South", "East", "West", "Courtyard North", "Courtyard South")
REACHED = {  # access -> storeys
    "ground": ("Level 1",),
    "lift": ("Level 2", "Level 3", "Level 4"),
    "swing_stage": tuple(f"Level {number}" for number in range(5, 13)),
}
REMARKS = ("see detail 3/A5.2", "laminated glass", "factory finish, colour by architect", "acoustic unit", "operable")


def sizes(count: int, chance: random.Random) -> list[Size]:
    """So many distinct (kind, width, height), sizes by the quarter inch from 24 to 96 in."""
    found: dict[Size, None] = {}
    while len(found) < count:
        width, height = chance.randrange(96, 384), chance.randrange(96, 384)
        inches = [f"{quarters // 4}.{quarters % 4 * 25} in" for quarters in (width, height)]
        found[(chance.choice(["window", "door"]), inches[0], inches[1])] = None
    return list(found)


def taken(choice: Sequence[T], place: int, chance: random.Random) -> T:
    """What the line at this place is of: each once, then any."""
    return choice[place] if place < len(choice) else chance.choice(choice)


def tidy(lines: int, kinds: int, chance: random.Random) -> list[Line]:
    """Lines shaped like the yardstick's."""
    choice = sizes(kinds, chance)
    found = []
    for place in range(lines):
        kind, width, height = taken(choice, place, chance)
        line = {"mark": f"M{place}", "kind": kind, "quantity": chance.randint(1, 9), "width": width, "height": height}
        found.append({**line, "elevation": chance.choice("NESW"), "storey": str(chance.randint(1, 12))})
    return found


def office(lines: int, kinds: int, chance: random.Random) -> list[Line]:
    """Lines as an office's files have them; a kind is a size reached in one way."""
    of_sizes = sizes(-(-kinds // len(REACHED)), chance)
    choice = [(size, access) for size in of_sizes for access in REACHED][:kinds]
    found = []
    for place in range(lines):
        (kind, width, height), access = taken(choice, place, chance)
        storey = chance.choice(REACHED[access])
        line: Line = {
            "id": str(uuid.UUID(int=chance.getrandbits(128), version=4)),
            "mark": f"{kind[0].upper()} {storey.split()[1]}-{place + 1:04}",
            "kind": kind,
            "quantity": chance.randint(1, 9),
            "width": width,
            "height": height,
            "elevation": chance.choice(ELEVATIONS),
            "storey": storey,
            "access": access,
        }
        if chance.random() < 1 / 3:
            line["note"] = chance.choice(REMARKS)
        found.append(line)
    return found


SCHEDULES: dict[str, Callable[[int, int, random.Random], list[Line]]] = {"office": office, "tidy": tidy}


def write_request(lines: int, kinds: int, schedule: str = "office") -> tuple[str, int]:
    """A request with one of the schedules as JSON text, and how many openings it asks for."""
    openings = SCHEDULES[schedule](lines, kinds, random.Random(7))
    request = {
        "edition": "benchmark",
        "work_date": "2027-03-15",
        "method": "fluid",
        "wall_barrier": "fluid",
        "treated_depth": "6 in",
        "crew": {"members": [{"labour": "journeyman", "count": 2}], "experience": "experienced"},
        "mobilisations": 1,
        "allocate_by": "touch_minutes",
        "openings": openings,
    }
    return json.dumps(request), sum(line["quantity"] for line in openings)
