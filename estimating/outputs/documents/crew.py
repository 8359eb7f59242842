"""Crew sheets of an estimate: what a crew does in one zone."""

from __future__ import annotations

from typing import Annotated, NotRequired, TypedDict

from estimating.outputs.documents.calendar import Clock, Degrees, LimitFrom
from estimating.outputs.documents.parts import PackCount
from estimating.outputs.documents.scalars import Day, Hours, Length, Method, Minutes, Number, OpeningKind


class SheetDay(TypedDict):
    """A day that is planned for a zone."""

    date: Day
    starts: Annotated[Clock, "when the day's work starts"]
    ends: Annotated[Clock, "when it ends"]


class SheetWorker(TypedDict):
    """Workers of one labour row."""

    title: str
    count: int


class SheetOpening(TypedDict):
    """Openings of one line of the schedule; minutes are standard, of one fully productive worker."""

    order: Annotated[int, "in working order, from 1"]
    line: Annotated[int, "of the schedule, from 1"]
    mark: str
    quantity: int
    kind: OpeningKind
    size: Annotated[str, "in the company's length style"]
    sides: Annotated[str, "treated sides, or all"]
    access: str
    method: Method
    minutes_each: Annotated[Minutes, "target for one, with what the crew has learnt by then"]
    minutes: Annotated[Minutes, "target for all of the line"]
    boxes: Annotated[int, "to tick, one for each opening"]


class SheetPiece(TypedDict):
    """Pieces of one size of a bundle, in the order that they go on."""

    mark: str
    piece: str
    length: Annotated[Length, "rounded up to what lengths are cut to"]
    length_shown: str
    width: Length
    width_shown: str
    count: int
    material: str
    title: str
    joined: Annotated[int, "lengths that one piece is joined of, lapped; 1: it is whole"]


class CoatTimes(TypedDict):
    """When the coats of an opening begin, in minutes from the start of a batch that one worker does."""

    opening: int
    first_coat: Minutes
    second_coat: Minutes


class SheetCoats(TypedDict):
    """Both coats of a zone's openings: how many at a time so that nobody waits."""

    openings: Annotated[int, "that take coats"]
    first_coat_minutes: Annotated[Minutes, "of one opening"]
    second_coat_minutes: Annotated[Minutes, "of one opening"]
    share_from: LimitFrom
    interval_minutes: Annotated[Minutes, "between coats at least, or until the colour has changed"]
    interval_from: LimitFrom
    batch: Annotated[int, "openings that take the first coat before any takes the second"]
    waiting_minutes: Annotated[Minutes, "that a zone is too small to fill"]
    dry_hours: Annotated[Hours, "of the last coat"]
    dry_from: LimitFrom
    clock: Annotated[list[CoatTimes], "of one batch; empty where it is longer than twelve openings"]


class SheetWeather(TypedDict):
    """When the work goes on and when it stops, in sentences."""

    lowest_temperature: Degrees
    lowest_from: LimitFrom
    highest_temperature: Degrees | None
    dry_hours: Annotated[Hours, "without rain or frost after the last coat, in the months that are planned"]
    go: Annotated[list[str], "all of them hold"]
    no_go: Annotated[list[str], "any of them stops the work"]


class SheetLoad(TypedDict):
    """A material to load for the zone, with its waste; mesh and tape are loaded as bundles."""

    material: Annotated[str, "its code"]
    title: str
    quantity: Annotated[Number, "in `unit`"]
    unit: str
    packs: Annotated[list[PackCount], "the fewest that hold it, of the sizes that are bought; the last is begun"]


class CrewSheet(TypedDict):
    """What a crew does in one zone, in its order."""

    zone: Annotated[int, "its number in the calendar"]
    elevation: str | None
    storey: str | None
    title: Annotated[str, "the zone in words"]
    part: NotRequired[Annotated[str, "of a season split"]]
    openings: Annotated[int, "0: the sheathing joints"]
    days: list[SheetDay]
    crew: list[SheetWorker]
    setup_minutes: Annotated[Minutes, "worker-minutes of the whole crew"]
    target_minutes: Annotated[Minutes, "standard minutes of all work of the zone"]
    crew_hours: Annotated[Hours, "that the crew takes for all of it, with waiting between coats"]
    order: Annotated[list[str], "of the pieces around every opening; each upper one laps the lower"]
    lines: Annotated[list[SheetOpening], "in working order"]
    pieces: Annotated[list[SheetPiece], "by mark; those of the cut plan's bundles"]
    coats: Annotated[SheetCoats | None, "null: nothing takes coats"]
    weather: SheetWeather
    packs: list[SheetLoad]
    cautions: Annotated[list[str], "those that fit the zone"]


class CrewSheets(TypedDict):
    """Crew sheets of an estimate, in the working order of its calendar."""

    items: list[CrewSheet]
    cautions: Annotated[list[str], "those of the estimate"]
