"""The rolls to buy of one material: sizes on offer mixed at least cost as far as found, rolls on hand first.

pieces in nm > whole steps, rounded up; joined where longer than a roll > laid out from each size, then from each two,
each roll exchanged for the cheapest that holds what is cut from it > the cheapest; and what it costs at least
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import ceil

from estimating.core.cutting.bounds import Bound, lower_bound
from estimating.core.cutting.cut import cut
from estimating.core.cutting.layout import Roll, Wanted, by_lanes, lay_out
from estimating.core.pack_search import TooClose
from estimating.core.packs import counts_for
from rates.core.fraction import Fraction

MOST_EXCHANGED = 6  # rolls at the end of a layout that another size is tried for
ZERO = Fraction(0)
Offer = tuple[int, Fraction]  # length of a roll in steps, price
LENGTHS = "length and width of all pieces"


@dataclass(frozen=True)
class Rolls:
    """A plan: its rolls, how many of each size on offer are new, and the least cost and number that are proven.

    Of several sizes each is what holds the least length.
    """

    rolls: tuple[Roll, ...]
    new: tuple[int, ...]
    cost: Fraction
    least_cost: Fraction
    least_rolls: int
    why: str

    @property
    def count(self) -> int:
        """New rolls."""
        return sum(self.new)

    @property
    def proven(self) -> bool:
        """Whether no plan costs less."""
        return self.cost == self.least_cost

    @property
    def longest_rest(self) -> int:
        """What the roll that leaves most leaves."""
        return max((roll.rest for roll in self.rolls), default=0)

    @property
    def taken(self) -> int:
        """Length of the rolls cut, less the longest rest, which is kept for other work."""
        return sum(roll.length for roll in self.rolls) - self.longest_rest


def on_hand(stock: int, longest: int, needed: int) -> list[int]:
    """Stock as rolls: whole ones of the longest size on offer, no more than needed, and one of what is over."""
    whole, over = divmod(stock, longest)
    return [*([over] if over else []), *[longest] * min(whole, needed)]


def exchanged(rolls: Sequence[Roll], offers: Sequence[Offer]) -> list[Roll]:
    """Each new roll as the cheapest size that holds what is cut from it; ties to the shorter, then the earlier."""
    found = []
    for roll in rolls:
        if roll.size is not None:
            needed = roll.length - roll.rest
            fitting = [place for place, (length, _) in enumerate(offers) if length >= needed]
            best = min(fitting, key=lambda place: (offers[place][1], offers[place][0], place))
            roll = replace(roll, size=best, length=offers[best][0])
        found.append(roll)
    return found


def wanted_of(rolls: Sequence[Roll]) -> list[Wanted]:
    """What is cut from rolls, to be laid out again."""
    return [
        Wanted(length, width, count, stretch.across)
        for roll in rolls
        for stretch in roll.sections
        for lane in stretch.lanes
        for (length, width), count in lane
    ]


def layouts(offers: Sequence[Offer], hand: Sequence[int], wanted: Sequence[Wanted]) -> Iterator[list[Roll]]:
    """Layouts from each size alone, then with the last rolls from another size."""
    longest_piece = max(piece.length for piece in wanted)
    fitting = [place for place, (length, _) in enumerate(offers) if length >= longest_piece]
    for place in fitting:
        laid = lay_out(place, offers[place][0], hand, wanted)
        yield laid
        fullest_first = sorted(laid, key=lambda roll: (roll.size is not None, roll.rest))
        first = max(sum(roll.size is None for roll in laid), len(laid) - MOST_EXCHANGED)
        for other in fitting if len(offers) > 1 else ():
            for kept in range(first, len(laid)) if other != place else ():
                again = wanted_of(fullest_first[kept:])
                yield fullest_first[:kept] + lay_out(other, offers[other][0], (), again)


def new_of(rolls: Sequence[Roll], offers: Sequence[Offer]) -> tuple[int, ...]:
    """How many new rolls of each size."""
    return tuple(sum(roll.size == place for roll in rolls) for place in range(len(offers)))


def cost_of(new: Sequence[int], offers: Sequence[Offer]) -> Fraction:
    """Σ count × price."""
    return sum((price * count for count, (_, price) in zip(new, offers, strict=True)), ZERO)


def least_number(room: int, wide: Fraction, hand: Sequence[int], wanted: Sequence[Wanted]) -> tuple[int, str]:
    """New rolls of one length that there must be at least, and why.

    By the least length; and by lanes: however rolls are slit, no more than n pieces lie side by side of
    those that are wider than 1/(n + 1) of the roll, so n times as many rolls are lanes, each cut as a roll is.
    """
    best = (max(0, ceil((least_length(wide, wanted) - sum(hand)) / room)), LENGTHS)
    every = by_lanes(wanted)
    for across in every:
        counts: dict[int, int] = {}
        for lanes, of_lanes in every.items():
            for (length, _), count in of_lanes.items() if lanes <= across else ():
                counts[length] = counts.get(length, 0) + count
        bound = lane_bound(room, counts, searched=len(every) == 1 and not hand)
        least = -(-bound.rolls // across) - len(hand)
        if least > best[0]:
            best = (least, bound.why)
    return best


def least_length(wide: Fraction, wanted: Sequence[Wanted]) -> Fraction:
    """How long all rolls together are at least: the area of the pieces, or those of up to n lanes, n side by side."""
    found = sum((piece.length * piece.width * piece.pieces for piece in wanted), ZERO) / wide
    for across in {piece.lanes for piece in wanted}:
        whole = sum(piece.length * piece.pieces for piece in wanted if piece.lanes <= across)
        found = max(found, Fraction(whole, across))
    return found


def lane_bound(room: int, counts: dict[int, int], *, searched: bool) -> Bound:
    """The bound of lanes, with what the search for the plan found where it was of these very pieces."""
    lengths, demand = list(counts), list(counts.values())
    return cut(room, lengths, demand).bound if searched else lower_bound(room, lengths, demand)


def least_of(
    offers: Sequence[Offer], wide: Fraction, hand: Sequence[int], wanted: Sequence[Wanted]
) -> tuple[Fraction, int, str]:
    """(least cost of new rolls, least number of them, why); of several sizes each by the least length alone."""
    if len(offers) == 1:
        least, why = least_number(offers[0][0], wide, hand, wanted)
        return least * offers[0][1], least, why
    need = max(ZERO, least_length(wide, wanted) - sum(hand))
    fewest = ceil(need / max(length for length, _ in offers))
    try:
        counts = counts_for(need, tuple((Fraction(length), price) for length, price in offers))
    except TooClose:
        return need * min(price / length for length, price in offers), fewest, LENGTHS
    return cost_of(counts, offers), fewest, LENGTHS


@lru_cache(maxsize=256)
def plan_rolls(offers: tuple[Offer, ...], wide: Fraction, stock: int, wanted: tuple[Wanted, ...]) -> Rolls:
    """The cheapest plan that the heuristic finds; ties to the least length, then fewest rolls, then the earlier size.

    wide: width of a roll; stock: length on hand in steps. ValueError for a piece longer than every roll.
    """
    if not wanted:
        return Rolls((), (0,) * len(offers), ZERO, ZERO, 0, LENGTHS)
    longest = max(length for length, _ in offers)
    most = sum(piece.length * piece.pieces for piece in wanted) // longest + 1
    hand = on_hand(stock, longest, most)
    found: list[tuple[tuple[Fraction, int, int], list[Roll]]] = []
    for laid in layouts(offers, hand, wanted):
        rolls = exchanged(laid, offers) if len(offers) > 1 else laid
        new = [roll for roll in rolls if roll.size is not None]
        key = cost_of(new_of(rolls, offers), offers), sum(roll.length for roll in new), len(new)
        found.append((key, rolls))
    key, rolls = min(found, key=lambda one: one[0])
    least_cost, least_rolls, why = least_of(offers, wide, hand, wanted)
    return Rolls(tuple(rolls), new_of(rolls, offers), key[0], least_cost, least_rolls, why)
