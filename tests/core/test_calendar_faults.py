"""What a request can't say of its calendar, and an edition of its temperatures: each fault at its place; far dates."""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction
from uuid import UUID

import pytest

from estimating.outputs.calendar_answer import calendar_answer
from estimating.outputs.calendar_events import events
from estimating.outputs.icalendar import write_icalendar
from estimating.outputs.pictures.site_calendar import calendar_picture
from tests.core.invented import Document, costed, edition, material, materials, opening, refusals, request
from tests.core.test_site_calendar import months

FAR: Document = {"zones": [{"elevation": "North", "units_due": "9999-12-31"}]}


@pytest.mark.parametrize(
    ("work_date", "calendar", "start"),
    [
        ("9999-12-31", {"holidays": "US", "climate": months(m12=("70", "50"))}, None),
        ("9999-12-31", FAR, None),
        ("2027-03-15", FAR, "2027-03-15"),
        ("8999-12-31", {"holidays": "US-WI"} | FAR, "8999-12-31"),
        ("2027-03-15", {"holidays": "US", "start": "0001-01-01"}, "0001-01-01"),
    ],
)
def test_the_ends_of_time_are_days_like_any_other(work_date: str, calendar: Document, start: str | None) -> None:
    """Nothing is planned after the year 9000, so that there is a day after each; a picture stays within bounds."""
    asked = request(opening(elevation="North"), work_date=work_date, calendar=calendar)
    found = calendar_answer(costed(asked))
    assert found["start"] == start
    file = write_icalendar(events(found), name="x", of=UUID(int=1), moment=datetime(2027, 1, 4, tzinfo=UTC), sequence=1)
    assert file.startswith(b"BEGIN:VCALENDAR") and len(calendar_picture(found, "x")) < 200_000


ZONES: list[Document] = [{"elevation": "North", "storey": "7"}]


@pytest.mark.parametrize(
    ("calendar", "pointer", "code"),
    [
        ({"start": "soon"}, "/calendar/start", "not_a_date"),
        ({"starts": "7am"}, "/calendar/starts", "not_a_clock_time"),
        ({"holidays": "Wisconsin"}, "/calendar/holidays", "not_a_region"),
        ({"working_days": ["Mon"]}, "/calendar/working_days/0", "unknown_choice"),
        ({"working_days": []}, "/calendar/working_days", "wrong_count"),
        ({"days_off": [{"first": "2027-03-16"}]}, "/calendar/days_off/0/reason", "missing"),
        (
            {"days_off": [{"first": "2027-03-16", "last": "2027-03-15", "reason": "x"}]},
            "/calendar/days_off/0/last",
            "order",
        ),
        ({"zones": ZONES}, "/calendar/zones/0", "unknown_zone"),
        ({"climate": months(m3=("30", "50"))}, "/calendar/climate/months", "low_above_high"),
        ({"climate": months(m3=("50", "30")) | {"unit": "K"}}, "/calendar/climate/unit", "unknown_choice"),
        (
            {"climate": {"title": "x", "unit": "c", "months": [{"month": 13, "high": "1", "low": "0"}]}},
            "/calendar/climate/months/0/month",
            "too_large",
        ),
        (
            {"climate": {"title": "x", "unit": "c", "months": [{"month": 1, "high": "1", "low": "0"}] * 2}},
            "/calendar/climate/months",
            "month_twice",
        ),
        ({"weather": "fine"}, "/calendar/weather", "unknown_field"),
    ],
)
def test_what_can_t_be_read_is_refused_at_its_place(calendar: Document, pointer: str, code: str) -> None:
    assert refusals(request(opening(elevation="North", storey="1"), calendar=calendar)) == [(pointer, code)]


def test_temperatures_of_the_rates_have_their_unit_and_their_order() -> None:
    def wrong(**fields: str) -> list[tuple[str, str]]:
        rows = [material("liquid", "liquid", wet_film=["20 mil"], packs=[{"size": "1 gal", "price": "4"}], **fields)]
        return refusals(request(opening()), edition(materials=[*rows, *materials()[1:]]))

    at = "/tables/materials/0"
    assert wrong(lowest_temperature="40") == [(f"{at}/lowest_temperature", "not_a_temperature")]
    assert wrong(lowest_temperature="9999 F") == [(f"{at}/lowest_temperature", "too_large")]
    assert wrong(lowest_temperature="10 C", highest_temperature="50 °F") == [(f"{at}/highest_temperature", "order")]
    celsius = costed(
        request(opening()), edition(materials=[m | {"lowest_temperature": "-5.5 °C"} for m in materials()])
    )
    assert celsius.card.materials[0].lowest_temperature_fahrenheit == Fraction(221, 10)  # −5.5 × 9/5 + 32 = 22.1
