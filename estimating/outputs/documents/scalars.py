"""Single values as answers print them, each with a name, a meaning and a unit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from estimating.core.breakouts import BY, WHAT
from estimating.core.kinds import METHODS, OPENING_KINDS
from estimating.core.schedule_lines import ALTERNATE_KINDS
from estimating.outputs.assumptions.item import SOURCES
from rates.core.layers import LAYERS
from rates.core.production import SHAPES
from rates.core.steps import STEP
from rates.core.tables import ROLES

DECIMAL = r"^-?[0-9]+(\.[0-9]+)?$"
RUN_STATES = ("queued", "working", "costed", "refused", "failed", "cancelled")
SEVERITIES = ("question", "warning", "to_know")


@dataclass(frozen=True)
class Named:
    """What a kind of text is called in the description, what it means, how it is written."""

    name: str
    about: str = ""
    pattern: str = ""
    format: str = ""
    words: tuple[str, ...] = ()


def decimal(name: str, about: str) -> Named:
    """Exact decimal text."""
    return Named(name, f"exact decimal text: {about}", DECIMAL)


Money = Annotated[str, decimal("Money", "money in the document's `currency`, to its smallest unit")]
Length = Annotated[str, decimal("PrintedLength", "a length in the document's `units.length`")]
Perimeter = Annotated[str, decimal("PrintedPerimeter", "a length in the document's `units.perimeter`")]
Area = Annotated[str, decimal("PrintedArea", "an area in the document's `units.area`")]
Hours = Annotated[str, decimal("Hours", "hours of work")]
Minutes = Annotated[str, decimal("Minutes", "minutes of work")]
Percent = Annotated[str, decimal("Percent", "12 is 12 %")]
Number = Annotated[str, decimal("Number", "a plain number, or one in the unit that stands beside it")]
Exact = Annotated[
    str, Named("ExactNumber", "exact: decimal text, or numerator/denominator where decimals never end; or a word")
]
Id = Annotated[str, Named("Id", "a UUID", format="uuid")]
Moment = Annotated[str, Named("Moment", "RFC 3339, in UTC", format="date-time")]
Day = Annotated[str, Named("Day", "ISO 8601", format="date")]
RunState = Annotated[str, Named("RunState", words=RUN_STATES)]
Severity = Annotated[str, Named("RemarkSeverity", words=SEVERITIES)]
OpeningKind = Annotated[str, Named("OpeningKind", words=OPENING_KINDS)]
Shape = Annotated[str, Named("Shape", words=SHAPES)]
Method = Annotated[str, Named("Method", words=METHODS)]
Role = Annotated[str, Named("MaterialRole", words=ROLES)]
AlternateKind = Annotated[str, Named("AcceptedAlternateKind", words=ALTERNATE_KINDS)]
BrokenOutBy = Annotated[str, Named("BrokenOutBy", words=BY)]
BrokenOut = Annotated[str, Named("BrokenOut", "no_opening: a price that no opening has", words=WHAT)]
Step = Annotated[str, Named("BuildUpStep", words=tuple(STEP))]
Source = Annotated[str, Named("AssumptionSource", words=SOURCES)]
Attribution = Annotated[str, Named("Attribution", "how the change goes to causes", words=("even_handed", "in_order"))]
MatchState = Annotated[str, Named("MatchState", "of two lines", words=("proposed", "confirmed", "rejected"))]
Layer = Annotated[str, Named("Layer", words=LAYERS)]
