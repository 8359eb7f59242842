"""What costings of two jobs' mixed states have in common: a kind is worked out once for all states that agree on it.

A kind's figures of one opening follow from the kind as settled, the production, labour and material tables, and the
fields of the request that are not listed below; how many there are and what is learnt belong to each state alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields
from typing import Any

from estimating.core.conditions import Conditions, PartSubject
from estimating.core.kinds import Kind
from estimating.core.readiness import Ready, settle_kinds
from estimating.core.request import Request
from estimating.core.roll_needs import CUT_PLAN
from estimating.core.supplies import Supplies
from estimating.core.work import OF_ITS_CUTS, KindWork
from rates.core.fields import Faults

NOT_OF_A_KIND = frozenset(
    (
        "schedule work_date given mobilisations parts temperature joints stock subcontracts allowances allocate_by"
        " only_external wall_area_nm2 stated_rate empty_price exemption_certificate questions unit_prices return_trips"
        " calendar"
    ).split()
)  # the temperature of the part counts, and `given` in the kind as settled; any other field of the request counts
OF_REQUEST = tuple(field.name for field in fields(Request) if field.name not in NOT_OF_A_KIND)
OF_CARD = ("production", "labour", "materials", "rounding", "currency")
OF_ITS_PART = ("quantity", "touch_minutes")  # figures of a kind that its count and what is learnt go into
OF_ITS_SHAPE = (  # figures that follow from the kind, the geometry and the widths of the stocks
    *OF_ITS_CUTS,
    *"width corner_factor corners run perimeter sill_depth sill_deeper sill_extra treated_area cuts".split(),
    *"length stock_length whole_outline".split(),
)
Key = tuple[int, ...]


class Shared:
    """Kinds settled and worked out, for as long as the jobs are compared."""

    def __init__(self) -> None:
        self.values: dict[str, list[Any]] = {}
        self.settled: dict[Key, tuple[Mapping[int, Kind], object, object]] = {}  # what ids are of is kept with them
        self.kinds: dict[Kind, int] = {}
        self.numbers: dict[int, int] = {}
        self.parts: dict[Key, Mapping[int, KindWork]] = {}
        self.works: dict[Key, KindWork] = {}
        self.shapes: dict[Key, KindWork] = {}
        self.firsts: dict[tuple[Any, ...], PartSubject] = {}

    def number(self, name: str, value: Any) -> int:
        """Which of the values of this name it is: the same for those that are equal."""
        known = self.values.setdefault(name, [])
        for place, one in enumerate(known):
            if one is value:
                return place
        for place, one in enumerate(known):
            if one == value:
                return place
        known.append(value)
        return len(known) - 1

    def settle_kinds(self, request: Request, used: Mapping[int, int], faults: Faults) -> Mapping[int, Kind]:
        """As readiness.settle_kinds."""
        schedule, before = request.schedule, len(faults)
        said = self.number("given", request.given), self.number("seal", request.seal)
        key = (id(schedule), id(used), *said)
        if key not in self.settled:
            kinds = settle_kinds(request, used, faults)
            if len(faults) > before:
                return kinds
            for kind in kinds.values():
                self.numbers[id(kind)] = self.kinds.setdefault(kind, len(self.kinds))
            self.settled[key] = kinds, schedule, used
        return self.settled[key][0]

    def state(self, conditions: Conditions) -> int:
        """Which of the states it is that kinds are worked out in."""
        card, request = conditions.card, conditions.request
        of_card = [self.number(name, getattr(card, name)) for name in OF_CARD]
        of_request = [self.number(name, getattr(request, name)) for name in OF_REQUEST]
        return self.number("state", (conditions.temperature, *of_card, *of_request))

    def work_of_part(self, ready: Ready) -> Key | None:
        """Which work in which state a part is, None where each part is worked out by itself.

        So it is where the crew learns, for then minutes are the part's own, and where a cut plan chooses the stock.
        """
        request = ready.conditions.request
        if request.crew.done_before is not None or request.quantities_from == CUT_PLAN:
            return None
        counted = self.number("kinds", ready.kinds), self.number("quantities", ready.quantities)
        return self.state(ready.conditions), *counted

    def take_over(self, subject: PartSubject, ready: Ready, joints: bool, what: str, names: Sequence[str]) -> None:
        """Figures of a part that are sums over all its work, from the first part with the same work."""
        work = self.work_of_part(ready)
        if work is not None:
            around = self.number("joints", (joints, ready.conditions.request.joints, ready.joint_method))
            given = self.number("given", ready.conditions.request.given)
            first = self.firsts.setdefault((what, *work, around, given), subject)
            subject.__dict__.update(known_of(first, names))

    def working(self, ready: Ready, rows: Supplies) -> Mapping[int, KindWork] | None:
        """The kinds of a part as worked, by kind index; None where a cut plan chooses for the whole job."""
        if ready.conditions.request.quantities_from == CUT_PLAN:
            return None
        work = self.work_of_part(ready)
        if work is not None and work in self.parts:
            return self.parts[work]
        state, geometry = self.state(ready.conditions), self.number("geometry", ready.conditions.production.geometry)
        works = {}
        for index, kind in ready.kinds.items():
            number = self.numbers[id(kind)]
            known = self.works.get((state, number))
            if known is None:
                made = KindWork(ready.conditions, ready.crew, rows, index, kind, ready.quantities[index])
                widths = self.number("widths", tuple([stock.row.width_nm for stock in made.stocks]))
                shape = self.shapes.setdefault((geometry, widths, number), made)
                made.__dict__.update(known_of(shape, OF_ITS_SHAPE))
                self.works[state, number] = works[index] = made
            else:
                works[index] = worked_again(known, ready, index)
        if work is not None:
            self.parts[work] = works
        return works


def known_of(subject: PartSubject, names: Sequence[str]) -> dict[str, Any]:
    """Those of its figures that are known."""
    return {name: subject.__dict__[name] for name in names if name in subject.__dict__}


def worked_again(known: KindWork, ready: Ready, index: int) -> KindWork:
    """The work of a kind in another part, with all figures that are known but those of its part."""
    work = object.__new__(KindWork)
    work.__dict__.update(known.__dict__)
    for name in OF_ITS_PART:
        work.__dict__.pop(name, None)
    work.belongs_to(ready.conditions, ready.crew, index, ready.quantities[index])
    return work
