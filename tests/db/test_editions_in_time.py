"""Laws of editions through time, with the database: what is in force, and that the future never changes the past."""

from __future__ import annotations

import datetime
import json
from copy import deepcopy
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from estimating import snapshots
from estimating.actions.estimates import submit
from estimating.actions.preparation import prepare
from estimating.work.execute import execute
from rates.actions import books, companies, editions
from rates.core.problems import Refused
from rates.queries.books import in_force
from rates.refusals import ANY_STATE
from tests.cast import NOW, Office
from tests.db.making import golden_request
from tests.worked_cases import read_case

GOLDEN = read_case("golden", "edition.json")
DAY = datetime.timedelta(days=1)
START = datetime.date(2027, 1, 1)


def document(wage: str, start: datetime.date) -> Any:
    """The golden edition with a wage and a first day."""
    whole = deepcopy(GOLDEN) | {"effective_from": start.isoformat()}
    whole["tables"]["labour"][0]["wage"] = wage
    return whole


def add(office: Office, wage: str, start: datetime.date, at: datetime.datetime, until: str) -> Any:
    """An edition taken as far as `until`: draft, submitted, approved, withdrawn (a day later)."""
    own = {"company": office.company}
    whole = editions.draft_edition(
        **own, rate_book=office.rate_book, member=office.drafter, document=document(wage, start), now=at
    )
    id = whole.edition.id
    if until != "draft":
        editions.submit(**own, id=id, member=office.drafter, expected=ANY_STATE, now=at)
    if until in ("approved", "withdrawn"):
        digest = whole.edition.digest
        editions.approve(**own, id=id, member=office.approver, reviewed=digest, expected=ANY_STATE, now=at)
    if until == "withdrawn":
        later = at + DAY
        editions.withdraw(**own, id=id, member=office.approver, reason="x", expected=ANY_STATE, now=later)
    return id


def empty_office() -> Office:
    """An office whose rate book has no edition yet."""
    company = companies.make_company(name="Office", currency="USD", now=NOW)
    drafter = companies.make_member(company=company, name="Drafter", now=NOW)
    approver = companies.make_member(company=company, name="Approver", now=NOW)
    book = books.make_book(company=company, name="Rates", now=NOW)
    return Office(company, drafter, approver, "", "", book.id, book.id)


lives = st.lists(
    st.tuples(st.integers(0, 6), st.integers(0, 9), st.sampled_from(["draft", "submitted", "approved", "withdrawn"])),
    max_size=6,
)


@pytest.mark.usefixtures("rules")
@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(lives, st.integers(-1, 7), st.integers(-1, 12))
def test_in_force_is_the_latest_start_not_after_the_day_among_those_known(
    lives: list[tuple[int, int, str]], day: int, known: int
) -> None:
    """Against a plain walk over what happened when: a draft is never in force, a withdrawal counts from its moment."""
    office = empty_office()
    told: list[tuple[Any, ...]] = []
    for start, hour, until in lives:
        at = NOW + datetime.timedelta(hours=24 * hour + len(told))  # no two at one moment
        id = add(office, "30", START + start * DAY, at, until)
        told.append((START + start * DAY, at, at + DAY if until == "withdrawn" else None, until, id))
    asked, moment = START + day * DAY, NOW + known * DAY
    found = in_force(company=office.company, rate_book=office.rate_book, work_date=asked, known_at=moment)
    best = None
    for first, at, gone, until, id in sorted(told, key=lambda t: t[1]):
        known_then = until in ("approved", "withdrawn") and at <= moment and not (gone is not None and gone <= moment)
        if known_then and first <= asked and (best is None or first >= best[0]):
            best = (first, id)
    assert (found.id if found else None) == (best[1] if best else None)


def costed(office: Office, now: datetime.datetime, **fields: Any) -> Any:
    """The id of an estimate of the golden request by the office's book, costed."""
    request = {k: v for k, v in golden_request(office).items() if k != "edition"}
    request |= {"rate_book": str(office.rate_book)} | fields
    ready = prepare(company=office.company, request=request, units="imperial", now=now)
    submitted = submit(company=office.company, member=office.drafter, prepared=ready, at_once=True, now=now)
    assert submitted.claim is not None and execute(submitted.claim) == "costed"
    return submitted.id


def content(office: Office, id: Any) -> dict[str, Any]:
    """Every part of an estimate as stored; of its summary what the core computed."""
    found: dict[str, Any] = {}
    for name in ("openings", "materials", "equipment", "cost-codes"):
        found[name] = snapshots.read_items(company=office.company, estimate=id, name=name, start=0, limit=None)
    for name in ("hours", "pieces"):
        found[name] = snapshots.read_bytes(company=office.company, estimate=id, name=name)
    summary = json.loads(snapshots.read_summary(company=office.company, estimate=id) or b"")
    told = ("totals", "build_up", "by_mark", "remarks", "cautions", "edition", "layers", "input_digest", "currency")
    return found | {name: summary[name] for name in told}


def test_an_estimate_re_run_as_known_on_its_day_gives_the_same_bytes_after_50_later_editions(office: Office) -> None:
    """Half of the 50 start before the work date, some on it, and every seventh is withdrawn again."""
    first = costed(office, NOW)
    before = content(office, first)
    for n in range(50):
        start = datetime.date(2027, 3, 15) + (n - 25) * DAY
        add(office, f"{40 + n}.00", start, NOW + (n + 1) * DAY, "withdrawn" if n % 7 == 0 else "approved")
    later = NOW + 100 * DAY
    again = costed(office, later, known_at=NOW.isoformat())
    assert content(office, again) == before
    today = costed(office, later)
    assert content(office, today)["totals"]["price"] != before["totals"]["price"]
    assert content(office, first) == before


def test_a_draft_never_prices_anything(office: Office) -> None:
    before = content(office, costed(office, NOW))
    draft = add(office, "99.00", datetime.date(2027, 3, 1), NOW, "draft")
    sent = add(office, "98.00", datetime.date(2027, 3, 2), NOW, "submitted")
    assert content(office, costed(office, NOW + DAY)) == before
    for id in (draft, sent):
        with pytest.raises(Refused) as refused:
            prepare(
                company=office.company,
                request=golden_request(office, edition=str(id)),
                units="imperial",
                now=NOW + DAY,
            )
        assert [(p.pointer, p.code) for p in refused.value.problems] == [("/edition", "not_approved")]


@pytest.mark.parametrize("until", ["draft", "submitted", "approved", "withdrawn"])
def test_editing_the_future_never_changes_the_past(office: Office, until: str) -> None:
    """Whatever becomes of an edition that starts after the work date, the work costs what it did."""
    before = content(office, costed(office, NOW))
    add(office, "99.00", datetime.date(2027, 3, 16), NOW + DAY, until)
    assert content(office, costed(office, NOW + 3 * DAY)) == before
    assert content(office, costed(office, NOW + 3 * DAY, known_at=NOW.isoformat())) == before
