"""Tables of projects to change orders and job records. Reads go through queries, writes through actions and work."""

from estimating.models.change_orders import ChangeOrder, ChangeOrderStep
from estimating.models.quotes import CLOSED, Quote, QuoteFile, QuoteState, QuoteTexts, SignOff
from estimating.models.records import (
    Change,
    Climates,
    Comparison,
    Estimate,
    EstimatePart,
    KeptColumns,
    LineMatch,
    Project,
    Run,
    ScheduleRevision,
    WorkerBeat,
)
from estimating.models.site import JobRecord, SiteLink

__all__ = [
    "CLOSED",
    "Change",
    "ChangeOrder",
    "ChangeOrderStep",
    "Climates",
    "Comparison",
    "Estimate",
    "EstimatePart",
    "JobRecord",
    "KeptColumns",
    "LineMatch",
    "Project",
    "Quote",
    "QuoteFile",
    "QuoteState",
    "QuoteTexts",
    "Run",
    "ScheduleRevision",
    "SignOff",
    "SiteLink",
    "WorkerBeat",
]
