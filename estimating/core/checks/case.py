"""What a check looks at and what it finds."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from estimating.core.estimate import Estimate
from estimating.core.kinds import Kind
from estimating.core.part import Part
from estimating.core.request import Request
from rates.core.card import Card
from rates.core.rows import EquipmentRow, LabourRow, MaterialRow


@dataclass(frozen=True)
class Case:
    """One finding. about: what tells it from others of its check; says: the values of the sentence; lines: indexes."""

    about: str = ""
    says: Mapping[str, str] = field(default_factory=dict)
    lines: tuple[int, ...] = ()


@dataclass(frozen=True)
class Rates:
    """An edition as a check sees it: the whole of its rows, or those that price the work, at its temperature."""

    card: Card
    labour: tuple[LabourRow, ...]
    materials: tuple[MaterialRow, ...]
    equipment: tuple[EquipmentRow, ...]
    temperature: str | None = None
    metric: bool = False
    whole: bool = False


@dataclass(frozen=True)
class Work:
    """A part of an estimate as a check sees it."""

    estimate: Estimate
    part: Part

    @property
    def request(self) -> Request:
        """The request."""
        return self.estimate.request

    @property
    def card(self) -> Card:
        """The part's rate card."""
        return self.part.plan.card

    @property
    def metric(self) -> bool:
        """Whether lengths are read in millimetres."""
        return self.request.units == "metric"

    @property
    def kinds(self) -> Iterator[tuple[int, Kind]]:
        """(index, kind) of what is priced in the part."""
        return ((index, work.kind) for index, work in self.part.works.items())

    def lines_of(self, kinds: Collection[int]) -> tuple[int, ...]:
        """Indexes of the part's priced lines of some kinds."""
        if not kinds:
            return ()
        schedule = self.request.schedule
        return tuple([i for i in schedule.priced_among(self.part.plan.lines) if schedule.lines[i].kind in kinds])

    def lines_where(self, applies: Callable[[Kind], bool]) -> tuple[int, ...]:
        """Indexes of the part's priced lines of the kinds to which something applies."""
        return self.lines_of({index for index, kind in self.kinds if applies(kind)})


OfWork = Callable[[Work], Iterable[Case]]
OfRates = Callable[[Rates], Iterable[Case]]


@dataclass(frozen=True)
class Check:
    """A row of the table. severity: warning or to_know; sentence: with the names of a case's values in braces.

    of_work, of_rates: its condition, of a part of the job or of an edition; open: whether it tells nothing of wages,
    costs and margins, so that who may not see those sees it.
    """

    code: str
    severity: str
    sentence: str
    of_work: OfWork | None = None
    of_rates: OfRates | None = None
    open: bool = False


@dataclass(frozen=True)
class Finding:
    """What a check found: its row, and the case."""

    check: Check
    case: Case

    @property
    def key(self) -> tuple[str, str]:
        """What it is about, by which findings of two estimates are told apart."""
        return self.check.code, self.case.about

    @property
    def sentence(self) -> str:
        """The sentence with its values."""
        return self.check.sentence.format_map(self.case.says)
