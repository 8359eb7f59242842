"""Stock widths chosen for the whole part of a job at the cost of whole rolls, where a cut plan decides the quantities.

each opening's own choice > kinds of the same strips moved to another stock together, one kind alone, a stock given up,
all on one stock: kept where rolls and the minutes of extra strips cost less together, until no move does
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from math import ceil

from estimating.core.crew import CrewCost
from estimating.core.roll_needs import Cut, rolls_for
from estimating.core.worked import Worked
from rates.core.fraction import Fraction
from rates.core.rows import MaterialRow

MOST_ALONE = 30  # kinds up to which each is moved alone
MOST_PASSES = 4
ONE = Fraction(1)
Choice = tuple[int, ...]  # the place of the stock of each work
Stock = Callable[[MaterialRow], Fraction]


class JobStock:
    """Works that may be cut from the same stocks, and what a choice for each of them costs.

    stock: of a row, what is on hand; step: what lengths are rounded up to; both nm.
    """

    def __init__(self, works: Sequence[Worked], crew: CrewCost, stock: Stock, step: Fraction) -> None:
        self.works, self.crew, self.stock, self.step = works, crew, stock, step
        self.stocks, self.lap = works[0].stocks, Fraction(works[0].lap)
        self.costs: dict[tuple[int, tuple[int, ...]], Fraction] = {}
        self.pieces: dict[tuple[int, int], list[Cut]] = {}
        self.lengths: dict[tuple[int, int], Fraction] = {}

    def cuts(self, at: int, place: int) -> list[Cut]:
        """(length, width, count) of all pieces of a work from a stock."""
        if (at, place) not in self.pieces:
            work = self.works[at]
            times = int(work.times(ONE)[0])
            keys = [(place, j) for j in range(len(work.cuts))]
            self.pieces[at, place] = [
                (work.length[k], work.width_of_strip[k], int(work.count[k]) * times) for k in keys
            ]
        return self.pieces[at, place]

    def cost_of_rolls(self, place: int, cut_from: tuple[int, ...]) -> Fraction:
        """Of the rolls of a stock that these works are cut from, as its row is priced."""
        if (place, cut_from) not in self.costs:
            price = self.stocks[place]
            row, on_hand = price.row, self.stock(price.row)
            cuts = [cut for at in cut_from for cut in self.cuts(at, place)]
            plan = rolls_for(self.step, self.lap, row.width_nm or Fraction(0), on_hand, price.offers, cuts)
            used = max(Fraction(0), plan.taken * self.step - on_hand) * price.unit_price
            self.costs[place, cut_from] = used if row.price_as == "used" else plan.cost
        return self.costs[place, cut_from]

    def least_of_rolls(self, place: int, cut_from: tuple[int, ...]) -> Fraction:
        """What the rolls cost at least: their length by lanes at the lowest price, in whole rolls of an only size."""
        price, row = self.stocks[place], self.stocks[place].row
        needed = sum((self.lane_length(at, place) for at in cut_from), Fraction(0)) - self.stock(row)
        if row.price_as == "used" or len(price.offers) > 1:
            return max(Fraction(0), needed) * price.unit_price
        size, each = price.offers[0]
        return Fraction(max(0, ceil(needed / size)) * each)

    def lane_length(self, at: int, place: int) -> Fraction:
        """How much of a roll the pieces of a work take, each its share of the lanes side by side."""
        if (at, place) not in self.lengths:
            wide = self.stocks[place].row.width_nm or Fraction(0)
            shares = [length * count / max(1, int(wide // width)) for length, width, count in self.cuts(at, place)]
            self.lengths[at, place] = sum(shares, Fraction(0))
        return self.lengths[at, place]

    def cost(self, choice: Choice, of_rolls: Callable[[int, tuple[int, ...]], Fraction]) -> Fraction:
        """Of all rolls and of the minutes of extra strips."""
        found = Fraction(0)
        for place in sorted(set(choice)):
            found += of_rolls(place, tuple(at for at, chosen in enumerate(choice) if chosen == place))
        for work, place in zip(self.works, choice, strict=True):
            found += work.extra_strips[place] * self.crew.strip_cost * work.times(ONE)[0]
        return found

    def groups(self) -> list[tuple[int, ...]]:
        """Works that need the same strips of every stock; and each alone, where they are few."""
        alike: dict[object, list[int]] = {}
        for at, work in enumerate(self.works):
            key = tuple((place, tuple(work.strips[place, j] for j in range(len(work.cuts)))) for place in work.fitting)
            alike.setdefault(key, []).append(at)
        alone = [(at,) for at in range(len(self.works))] if len(self.works) <= MOST_ALONE else []
        return list(dict.fromkeys([*map(tuple, alike.values()), *alone]))

    def moved(self, choice: Choice, among: Sequence[int], place: int) -> Choice:
        """The choice with these works on a stock, those that it fits."""
        fit = {at for at in among if place in self.works[at].fitting}
        return tuple(place if at in fit else chosen for at, chosen in enumerate(choice))

    def without(self, choice: Choice, place: int) -> Choice:
        """The choice with a stock given up: each of its works to the next cheapest of its own."""
        found = []
        for work, chosen in zip(self.works, choice, strict=True):
            others = [i for i in work.fitting if i != place]
            costs: Mapping[int, Fraction] = work.stock_cost
            found.append(min(others, key=lambda i: (costs[i], i)) if chosen == place and others else chosen)
        return tuple(found)

    def moves(self, choice: Choice) -> Iterator[Choice]:
        """Every choice that one move leads to."""
        every = range(len(self.works))
        for place in range(len(self.stocks)):
            yield self.moved(choice, every, place)
            yield self.without(choice, place)
        for group in self.groups():
            for place in range(len(self.stocks)):
                yield self.moved(choice, group, place)

    def own(self) -> Choice:
        """What each opening would choose alone. `chosen` is not asked: it is fixed once asked for."""
        return tuple(min((work.stock_cost[place], place) for place in work.fitting)[1] for work in self.works)

    def best(self) -> Choice:
        """The cheapest choice found, never dearer than each opening's own."""
        choice = self.own()
        least = self.cost(choice, self.cost_of_rolls)
        for _ in range(MOST_PASSES):
            before = choice
            for other in self.moves(before):
                if other == choice or self.cost(other, self.least_of_rolls) >= least:
                    continue
                cost = self.cost(other, self.cost_of_rolls)
                if cost < least:
                    choice, least = other, cost
            if choice == before:
                break
        return choice


def choose_for_job(works: Sequence[Worked], crew: CrewCost, stock: Stock, step: Fraction) -> None:
    """Tells every work the stock that it is cut from, those of mesh and those of tape apart."""
    for method in ("fluid", "tape"):
        of_method = [work for work in works if work.method == method]
        if of_method:
            choosing = JobStock(of_method, crew, stock, step)
            for work, place in zip(of_method, choosing.best(), strict=True):
                work.planned = choosing.stocks[place].row.code
