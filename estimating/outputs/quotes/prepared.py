"""What a quote is made from, as it is kept with it: priced lines, one or several prices for them, what was assumed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from estimating.core.checks.wording import listed
from estimating.core.estimate import Estimate
from estimating.core.kinds import Kind
from estimating.core.margins import Costs
from estimating.core.remainders import allocate
from estimating.core.shapes import ALL_SIDES, SIDES
from estimating.intake.said import size_said, spell
from estimating.outputs.assumptions.item import ANSWER, REQUEST, UNKNOWN, Assumption
from estimating.outputs.cautions import ALWAYS
from rates.core.fraction import Fraction

Show = Callable[[Fraction], str]
JOINTS, JOB = "Sheathing joints", "The job"
OWN_PRICES = ("estimate", "today")  # bases of offers that are the estimate's own price, not one at held rates


@dataclass(frozen=True)
class PricedLine:
    """One line of what is offered. line: its place in the schedule from 0, None for what stands on no line.

    sides: those treated, in words; empty for all of them, and on no line.
    """

    line: int | None
    mark: str
    quantity: int
    storey: str
    elevation: str
    kind: str
    size: str
    sides: str = ""


@dataclass(frozen=True)
class Offer:
    """A price for all lines, in minor units, and each line's part of it, which sum to it; `why` there is none.

    editions: the ids of the editions that it stands on, as an estimate keeps them.
    """

    basis: str
    price_minor: int | None
    lines: Sequence[int] = ()
    editions: Sequence[Any] = ()
    why: str = ""


@dataclass(frozen=True)
class Assumed:
    """An assumption as a quote keeps it; `key` is what a sign-off is kept by."""

    key: str
    field: str
    value: str
    source: str
    sentence: str
    openings: int
    moves: str = UNKNOWN
    stake_minor: int | None = None

    @property
    def needs_sign_off(self) -> bool:
        """Whether a person still has to stand behind it: an answer and an entry were somebody's word already."""
        return self.source not in (ANSWER, REQUEST)


@dataclass(frozen=True)
class Paired:
    """A line of the quote before and what it is now; places in both lists of lines, None where it came or went.

    sentence: what changed, empty where nothing did.
    """

    before: int | None
    after: int | None
    sentence: str


@dataclass(frozen=True)
class Prepared:
    """All of it; stored as JSON."""

    lines: Sequence[PricedLine]
    offers: Sequence[Offer]
    assumptions: Sequence[Assumed]
    facts: Sequence[str]
    costs: Costs
    openings: int
    set_aside: Sequence[Mapping[str, Any]] = ()
    alternates: Sequence[Mapping[str, Any]] = ()
    blocks: Sequence[Mapping[str, str]] = ()  # code, sentence, who: of a re-quote
    pairs: Sequence[Paired] = ()  # of a re-quote
    cautions: Sequence[str] = ALWAYS
    options: Sequence[Mapping[str, Any]] = ()  # alternates, each alone: name, what, openings, change_minor
    unit_prices: Sequence[Mapping[str, Any]] = ()  # asked for: mark, openings, more_minor, fewer_minor, holds

    def offer(self, basis: str) -> Offer | None:
        """The price on a basis."""
        return next((offer for offer in self.offers if offer.basis == basis), None)

    def document(self) -> dict[str, Any]:
        """As JSON."""
        return asdict(self) | {"lines": [tuple(asdict(line).values()) for line in self.lines]}


def read_assumed(entry: Mapping[str, Any]) -> Assumed:
    """An assumption as it was kept; drafts of before told what was entered for all openings as a default."""
    entered = "of their own; the request's is taken" in entry["sentence"]
    return Assumed(**{**entry, "source": REQUEST} if entered else entry)


def read_prepared(document: Mapping[str, Any]) -> Prepared:
    """What `Prepared.document` wrote."""
    return Prepared(
        lines=[PricedLine(*line) for line in document["lines"]],
        offers=[Offer(**offer) for offer in document["offers"]],
        assumptions=[read_assumed(entry) for entry in document["assumptions"]],
        facts=document["facts"],
        costs=Costs(**document["costs"]),
        openings=document["openings"],
        set_aside=document["set_aside"],
        alternates=document["alternates"],
        blocks=document["blocks"],
        pairs=[Paired(**entry) for entry in document["pairs"]],
        cautions=document.get("cautions", ALWAYS),
        options=document.get("options", ()),
        unit_prices=document.get("unit_prices", ()),
    )


def priced_lines(estimate: Estimate, show: Show) -> list[PricedLine]:
    """The lines that count in the price, then what stands on no line: the joints, the job itself."""
    schedule = estimate.request.schedule
    sizes = [spell(size_said(kind.shape), show) for kind in schedule.kinds]
    found = []
    for i in schedule.priced:
        line = schedule.lines[i]
        kind = schedule.kinds[line.kind].kind if line.kind is not None else "other"
        size = sizes[line.kind] if line.kind is not None else ""
        sides = sides_said(schedule.kinds[line.kind]) if line.kind is not None else ""
        found.append(PricedLine(i, line.mark, line.quantity, line.storey, line.elevation, kind, size, sides))
    beside = [mark for mark in estimate.allocation.marks if not mark.lines and (mark.mark is None or mark.quantity)]
    for mark in beside:
        found.append(PricedLine(None, JOB if mark.mark is None else JOINTS, mark.quantity, "", "", "other", ""))
    return found


def sides_said(kind: Kind) -> str:
    """The treated sides in words, such as `jambs and head`; empty for all."""
    if kind.sides == ALL_SIDES or not kind.shape.has_sill:
        return ""
    return listed(side for side in SIDES if side in kind.sides)


def not_in_price(estimate: Estimate) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """The openings set aside by reason, and those of alternates by name, with their marks."""
    aside: dict[str, dict[str, Any]] = {}
    alternates: dict[str, dict[str, Any]] = {}
    for line in estimate.request.schedule.lines:
        found, name = (aside, line.reason) if line.reason is not None else (alternates, line.alternate)
        if name is not None and line.quantity:
            entry = found.setdefault(name, {"openings": 0, "marks": {}})
            entry["openings"] += line.quantity
            entry["marks"][line.mark] = None
    return (
        [{"reason": reason, **entry, "marks": list(entry["marks"])} for reason, entry in aside.items()],
        [{"name": name, **entry, "marks": list(entry["marks"])} for name, entry in alternates.items()],
    )


def line_prices(estimate: Estimate) -> list[int]:
    """The price of each of `priced_lines`, minor units."""
    of_lines = estimate.allocation.line_prices
    beside = [m.price_minor for m in estimate.allocation.marks if not m.lines and (m.mark is None or m.quantity)]
    return [of_lines[i] for i in estimate.request.schedule.priced] + beside


def assumed(items: Iterable[Assumption]) -> list[Assumed]:
    """The assumptions of an estimate as a quote keeps them."""
    return [Assumed(x.key, x.field, x.value, x.source, x.sentence, x.openings, x.moves, x.stake_minor) for x in items]


def shared_out(price_minor: int, lines: Sequence[int]) -> list[int]:
    """Another price over the same lines, in proportion to theirs, by largest remainder."""
    return allocate(price_minor, list(lines))
