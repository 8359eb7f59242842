"""The fields of site and crew: between what a request for an estimate says and what a form holds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.http import QueryDict

from api.pages.forms import Input
from api.pages.trade_words import in_words
from estimating.core.request_calendar import WEEKDAYS
from estimating.core.schedule_lines import place_key
from rates.core.problems import Problem
from rates.core.tables import SUBSTRATES

UNSTATED = ("", "as each line says")
CREW = "crew."  # before the code of a labour row
FIELDS = (
    Input(
        "method", "Method", "radio", needed=True, hint="What goes with it, such as mesh and primer, is in the rates.",
        choices=(("fluid", "fluid-applied"), ("tape", "tape"), ("by_line", "as each line says")),
    ),
    Input(
        "wall_barrier", "Water-resistive barrier of the wall", "radio",
        choices=(("fluid", "fluid"), ("sheet", "sheet"), ("none", "none")),
    ),
    Input(
        "treated_depth", "Treated depth into the opening", "sized", when="",
        hint="With its unit: 6 in, or 150 mm. Needed unless every line gives its own, which goes before.",
    ),
    Input("substrate", "Substrate", "choice", choices=(UNSTATED, *((s, in_words(s)) for s in SUBSTRATES))),
    Input("work_date", "First day of the work", "date", needed=True, hint="Rates are looked up by it."),
    Input(
        "experience", "How experienced the crew is", "choice", pointer="/crew/experience",
        choices=(("experienced", "experienced"), ("new", "new to this work")),
    ),
    Input(
        "mobilisations", "Mobilisations", "number", when="optional",
        hint="How often the crew comes and sets up; 1 if left blank.",
    ),
    Input("wall_area", "Gross wall area", hint="With its unit: 2350 ft2. Compares the price with one per area."),
    Input("stated_rate", "A price per area to compare with"),
    Input(
        "method_override", "Why this method may stand against the barrier", when="",
    ),
    Input("no_primer_reason", "Why tape on gypsum takes no primer", when=""),
)  # fmt: skip
CALENDAR = (  # fields of the request's calendar: the name in the form, the name there
    ("calendar_start", "start"), ("holidays", "holidays"), ("working_days", "working_days"), ("climate", "climate"),
)  # fmt: skip
OVER_API = ("zones", "days_off", "starts", "climate")  # what a calendar may have that the form has no field for
KEEP = "calendar_kept"
CONDITIONS = (("temperature", "Temperature"), ("congestion", "Room to work"), ("rework", "Rework"))
NEEDED = {"/method": "choose one", "/work_date": "it is needed, for rates are looked up by it"}
PLAIN = (
    "method", "wall_barrier", "treated_depth", "substrate", "work_date", "wall_area", "stated_rate",
    "no_primer_reason", "rate_book", "temperature", "congestion", "rework",
)  # fmt: skip


def at_fields(faults: Sequence[Problem], labour: Sequence[tuple[str, str]]) -> list[Problem]:
    """Faults of a request at the fields of the form: the crew's at its first, a depth that no line gives at its own."""
    found = []
    for fault in faults:
        if fault.pointer == "/crew/members" and labour:
            detail = "say how many go, of at least one kind of worker"
            fault = Problem(f"/crew/members/{labour[0][0]}", fault.code, detail)
        elif fault.pointer.endswith("/treated_depth") and fault.code == "missing":
            fault = Problem(
                "/treated_depth", fault.code, "it is needed, for not every line of the schedule gives its own"
            )
        elif fault.code == "method_against_barrier":
            detail = "a sheet barrier takes tape: choose that, or say why fluid may stand against it"
            fault = Problem("/method_override", fault.code, detail)
        elif fault.code == "missing" and fault.pointer in NEEDED:
            fault = Problem(fault.pointer, fault.code, NEEDED[fault.pointer])
        elif fault.code == "unit_missing":
            fault = Problem(fault.pointer, fault.code, "a unit is needed with it, such as 6 in or 150 mm")
        found.append(fault)
    return list(dict.fromkeys(found))


def crew_inputs(labour: Sequence[tuple[str, str]]) -> list[Input]:
    """How many of each kind of worker."""
    return [Input(f"{CREW}{code}", title, "number", pointer=f"/crew/members/{code}", when="") for code, title in labour]


def condition_inputs(conditions: Mapping[str, Sequence[str]]) -> list[Input]:
    """The conditions of the site that the edition has names for."""
    return [
        Input(name, label, "choice", choices=[("", "not stated"), *((one, one) for one in names)])
        for name, label in CONDITIONS
        if (names := conditions.get(name, ()))
    ]


def calendar_inputs(places: Sequence[str], last: Mapping[str, Any], id: str) -> list[Input]:
    """The fields of the calendar.

    places: of the company's climates. last: the calendar of the project's last estimate, whose id is `id`.
    """
    found = [
        Input(
            "calendar_start", "The crew starts on another day", "date", pointer="/calendar/start",
            hint="Only where that is not the first day of the work, given above.",
        ),
        Input(
            "holidays", "Public holidays of", pointer="/calendar/holidays",
            hint="A country or a part of it by ISO 3166, such as US or US-WI. They are worked if left blank.",
        ),
        Input(
            "climate", "Climate", "choice", pointer="/calendar/climate",
            choices=[("", "not stated"), *((one, one) for one in places)],
        ),
        Input(
            "working_days", "Days of the week that are worked", "ticks", pointer="/calendar/working_days",
            hint="By the days that the crew's week has if none is ticked.",
            choices=[(day, day.capitalize()) for day in WEEKDAYS],
        ),
    ]  # fmt: skip
    if rest := rest_words(last, places):
        label = "Also in the calendar of the last estimate"
        choices = [(id, f"keep: {rest}"), ("", "leave out")]
        found.append(Input(KEEP, label, "radio", pointer="/calendar", choices=choices, value=id, when=""))
    return found


def rest_words(calendar: Mapping[str, Any], places: Sequence[str]) -> str:
    """What a calendar has beside the form's fields, in words."""
    zones = len(calendar.get("zones") or ())
    said = [f"the dates of zones ({zones})"] if zones else []
    said += ["the site's days off"] if calendar.get("days_off") else []
    said += [f"the day's start at {calendar['starts']}"] if calendar.get("starts") else []
    title = climate_title(calendar)
    if title and place_of(title, places) is None:
        said.append(f"the climate of {title}")
    return ", ".join(said)


def climate_title(calendar: Mapping[str, Any]) -> str:
    """The place whose months a stored calendar has."""
    climate = calendar.get("climate")
    return str(climate["title"]) if isinstance(climate, Mapping) else ""


def place_of(title: str, places: Sequence[str]) -> str | None:
    """The company's name of a place, None where none of its climates is of it."""
    return next((one for one in places if place_key(one) == place_key(title)), None)


def calendar_typed(typed: QueryDict, kept: Mapping[str, Any]) -> dict[str, Any]:
    """The request's calendar from what was typed; `kept`: what stays of the last one, where that is wished."""
    found: dict[str, Any] = {}
    if kept and typed.get(KEEP):
        found = {name: kept[name] for name in OVER_API if kept.get(name)}
    for name, field in CALENDAR:
        if name == "working_days":
            if days := typed.getlist(name):
                found[field] = days
        elif text := typed.get(name, "").strip():
            found[field] = text
    return found


def request_typed(typed: Mapping[str, Any], by: str) -> dict[str, Any]:
    """A request for an estimate from what was typed; the core reads its values and says what is wrong.

    by: who lets a method stand against the barrier.
    """
    request: dict[str, Any] = {}
    for name in PLAIN:
        if text := str(typed.get(name, "")).strip():
            request[name] = text
    members = [
        {"labour": name.removeprefix(CREW), "count": as_number(str(typed[name]).strip())}
        for name in typed
        if name.startswith(CREW) and str(typed[name]).strip() not in ("", "0")
    ]
    request["crew"] = {"members": members, "experience": str(typed.get("experience") or "experienced")}
    if text := str(typed.get("mobilisations", "")).strip():
        request["mobilisations"] = as_number(text)
    if text := str(typed.get("method_override", "")).strip():
        request["method_override"] = {"reason": text, "by": by[:100] or "not named"}
    return request


def as_number(text: str) -> int | str:
    """A whole number, or the text where it is none: the core says so."""
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else text


def as_typed(request: Mapping[str, Any]) -> dict[str, str]:
    """What a request said, as the fields hold it; what they can't hold stays out and is asked for again."""
    found = {name: str(request[name]) for name in PLAIN if isinstance(request.get(name), str)}
    crew = request.get("crew")
    if isinstance(crew, Mapping):
        for member in crew.get("members") or ():
            found[f"{CREW}{member['labour']}"] = str(member["count"])
        if isinstance(crew.get("experience"), str):
            found["experience"] = crew["experience"]
    if isinstance(request.get("mobilisations"), int):
        found["mobilisations"] = str(request["mobilisations"])
    calendar = calendar_of(request)
    found |= {name: str(calendar[field]) for name, field in CALENDAR[:2] if calendar.get(field)}
    if days := calendar.get("working_days"):
        found["working_days"] = "\n".join(days)
    if title := climate_title(calendar):
        found["climate"] = title
    override = request.get("method_override")
    if isinstance(override, Mapping) and isinstance(override.get("reason"), str):
        found["method_override"] = override["reason"]
    return found


def calendar_of(request: Mapping[str, Any]) -> Mapping[str, Any]:
    """The calendar of a stored request; blank where it has none."""
    found = request.get("calendar")
    return found if isinstance(found, Mapping) else {}
