"""The zones of an estimate as a crew works through them: openings by mark, what is counted of each step. No money."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimating.collector import collector_paused
from estimating.core.estimate import Estimate
from estimating.core.job_progress import SET_UP, Key, MarkTarget, Record, ZoneTarget
from estimating.core.job_targets import targets_of
from estimating.core.schedule_lines import Line, place_key
from estimating.models import Estimate as EstimateRow
from estimating.models import JobRecord
from estimating.queries.estimates import cautions, costed_again, require_costed
from estimating.queries.job_records import JobRecord as ShownRecord
from estimating.queries.job_records import records_of, show_record
from rates.core.length_styles import LengthStyle
from rates.queries.companies import length_style

LAST = 5  # records shown of a zone


@dataclass(frozen=True)
class StepCount:
    """How many openings of a mark are counted of a step."""

    step: str
    counted: int


@dataclass(frozen=True)
class ZoneMark:
    """The openings of one mark in a zone. sizes, access: of its lines; counts: of each step that it takes."""

    mark: str
    openings: int
    sizes: str
    access: str
    counts: tuple[StepCount, ...]

    @property
    def done(self) -> bool:
        """Whether every step of every opening is counted."""
        return all(count.counted >= self.openings for count in self.counts)


@dataclass(frozen=True)
class Zone:
    """A zone in working order."""

    number: int
    name: str
    steps: tuple[str, ...]
    marks: tuple[ZoneMark, ...]

    @property
    def openings(self) -> int:
        """All openings of it."""
        return sum(mark.openings for mark in self.marks)

    @property
    def done(self) -> int:
        """Openings of which every step is counted, as far as counts of marks tell."""
        return sum(min(count.counted for count in mark.counts) for mark in self.marks)

    @property
    def next_step(self) -> str:
        """The first step that is not counted of every opening."""
        left = (
            step
            for step in self.steps
            for mark in self.marks
            for count in mark.counts
            if count.step == step and count.counted < mark.openings
        )
        return next(left, SET_UP)


@dataclass(frozen=True)
class SiteWork:
    """An estimate's zones, what crews should mind, and the company's day."""

    number: int
    project: str
    zones: tuple[Zone, ...]
    cautions: tuple[str, ...]

    def zone(self, number: int) -> Zone | None:
        """A zone by its number."""
        return next((zone for zone in self.zones if zone.number == number), None)


def site_work(*, company: uuid.UUID, id: uuid.UUID) -> SiteWork:
    """The zones with their counts; NotThere, Conflict until costed."""
    require_costed(company, id)
    row = EstimateRow.objects.of(company).select_related("project").only("number", "project__name").get(pk=id)
    with collector_paused():
        estimate = costed_again(company, id)
        targets = targets_of(estimate).zones
    counted, style = counts_of(records_of(company, id)), length_style(company=company)
    places = lines_by_place(estimate)
    zones = tuple(zone_of(estimate, target, places, counted, style) for target in targets)
    name = row.project.name if row.project is not None else ""
    return SiteWork(row.number or 0, name, zones, tuple(cautions(company=company, id=id)))


def counts_of(records: Sequence[Record]) -> Mapping[Key, int]:
    """Openings counted by zone, mark and step."""
    found: dict[Key, int] = {}
    for record in records:
        for mark, openings in record.counts.items():
            key = (record.zone, mark, record.step)
            found[key] = found.get(key, 0) + openings
    return found


Places = Mapping[tuple[str, str], Sequence[Line]]


def place_of(at: Line | ZoneTarget) -> tuple[str, str]:
    """A place of elevation and storey, as zones are told apart."""
    return place_key(at.elevation), place_key(at.storey)


def lines_by_place(estimate: Estimate) -> Places:
    """The priced lines of each place."""
    found: dict[tuple[str, str], list[Line]] = {}
    for line in estimate.request.schedule.lines:
        if line.priced:
            found.setdefault(place_of(line), []).append(line)
    return found


def zone_of(
    estimate: Estimate, target: ZoneTarget, places: Places, counted: Mapping[Key, int], style: LengthStyle
) -> Zone:
    """A zone as the crew sees it."""
    lines = places.get(place_of(target), ())
    marks = tuple(mark_of(estimate, target, mark, lines, counted, style) for mark in target.marks)
    storey = f"storey {target.storey}" if target.storey else ""
    name = ", ".join(word for word in (target.elevation, storey) if word) or "No place named"
    return Zone(target.number, "Sheathing joints" if is_joints(target) else name, target.steps, marks)


def is_joints(target: ZoneTarget) -> bool:
    """Whether a zone is the sheathing joints."""
    return target.steps == ("joints",)


def mark_of(
    estimate: Estimate,
    zone: ZoneTarget,
    mark: MarkTarget,
    lines: Sequence[Line],
    counted: Mapping[Key, int],
    style: LengthStyle,
) -> ZoneMark:
    """One mark of a zone."""
    kinds = [
        estimate.request.schedule.kinds[line.kind] for line in lines if line.mark == mark.mark and line.kind is not None
    ]
    sizes = dict.fromkeys(
        f"{style.show(kind.shape.width_nm)} × {style.show(height)}"
        if (height := getattr(kind.shape, "height", None)) is not None
        else style.show(kind.shape.width_nm)
        for kind in kinds
    )
    access = dict.fromkeys((kind.access or "ground").replace("_", " ") for kind in kinds)
    counts = tuple(StepCount(step, counted.get((zone.number, mark.mark, step), 0)) for step, _ in mark.steps)
    return ZoneMark(mark.mark, mark.openings, " or ".join(sizes), " or ".join(access), counts)


def last_records(*, company: uuid.UUID, id: uuid.UUID, zone: int) -> list[ShownRecord]:
    """The records of a zone that stand, the newest first."""
    rows = JobRecord.objects.of(company).filter(estimate_id=id, zone=zone, withdrawn_at=None).order_by("-id")[:LAST]
    return [show_record(row) for row in rows]
