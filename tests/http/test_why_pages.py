"""How a figure was reached, as an estimator reads it: by titles, in the reader's numbers, down to row and line."""

from __future__ import annotations

import re
from decimal import Decimal
from html import unescape
from typing import Any

import pytest

from api.pages.reader import make_reader
from tests.cast import Api, Office, approve, make_person
from tests.http.test_pages import make
from tests.http.visitor import Job, Visitor
from tests.worked_cases import read_case

WAGE, PACK, LINE = "labour.journeyman.rate", "material.liquid.amount", "line.0.quantity"
ROW = re.compile(r"<tr>(<th scope=\"row\".*?)</tr>", re.S)


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


@pytest.fixture
def person(job: Job) -> Visitor:
    return job.person("estimator")


def why(job: Job, figure: str, by: str = "") -> str:
    return f"/estimates/{job.estimate}/why/{figure}{by and f'?by={by}'}"


def words(markup: str) -> str:
    """What a person reads of a piece of a page."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", markup)).split())


def numbers(markup: str) -> set[Decimal]:
    """The numbers in a piece of a page."""
    return {Decimal(one.replace(",", "")) for one in re.findall(r"\d[\d,]*(?:\.\d+)?", words(markup))}


def figures_from(person: Visitor, job: Job, start: str) -> dict[str, str]:
    """The pages of the figures that links lead to from one, each by its figure's name."""
    found: dict[str, str] = {}
    ways = [start]
    while ways and len(found) < 150:
        figure = ways.pop()
        if figure not in found:
            found[figure] = person.see(why(job, figure))
            ways += re.findall(rf'href="/estimates/{job.estimate}/why/([^"?]+)', found[figure])
    return found


def test_every_page_below_the_price_is_in_words(job: Job, person: Visitor) -> None:
    found = figures_from(person, job, "price")
    assert len(found) > 80
    for figure, page in found.items():
        main = words(page.partition("<main")[2])
        wrong = re.findall(
            r"Σ|half_up|\brequest\b|\w+_\w+|\b(?:kind|build up|build_up|line|mark)\.\d|\bgross for\b", main
        )
        assert wrong == [], (figure, wrong)
        assert "rounded once" not in main and "decimal places" not in main, figure


def test_a_link_is_called_by_the_words_that_are_seen(job: Job, person: Visitor) -> None:
    """Who says the words of a link has it followed (WCAG 2.5.3)."""
    several = 0
    for path in (
        why(job, "price"),
        why(job, PACK),
        f"/estimates/{job.estimate}",
        f"/estimates/{job.estimate}/materials",
    ):
        for attributes, inner in re.findall(r"<a ([^>]*)>(.*?)</a>", person.see(path), re.S):
            seen = words(re.sub(r'<span class="hidden">.*?</span>', "", inner))
            label = re.search(r'aria-label="([^"]*)"', attributes)
            name = label[1] if label else words(inner)
            several += name != seen
            assert seen.lower() in name.lower(), (path, seen, name)
    assert several > 10


def test_the_way_down_is_told_by_titles_and_leads_back(job: Job, person: Visitor) -> None:
    page = person.see(why(job, "crew.money", "price~~build_up.0~~hour_cost~~no.such"))
    trails = [words(one) for one in re.findall(r'<nav class="trail".*?</nav>', page, re.S)]
    assert trails[1] == "Price Labour Cost of a standard hour Money for an hour of the crew"
    assert f'<a href="/estimates/{job.estimate}">Estimate 1</a>' in page
    assert f'href="{why(job, "hour_cost", "price~~build_up.0")}"' in page.replace("%7E", "~")
    for figure, part in (
        ("crew.money", "hours"), (PACK, "materials"), ("kind.0.treated_area", "openings"), ("mark.0.price", ""),
        ("kind.0.stock", "pieces"), ("cost_code.07~2027~2000", "cost-codes"), ("labour_cost", "hours"),
    ):  # fmt: skip
        answer = person.client.get(why(job, figure))
        if answer.status_code == 200:
            back = re.findall(r'href="([^"]*)">Back to', answer.content.decode())
            assert back == [f"/estimates/{job.estimate}{part and f'/{part}'}"], figure
    person.see(why(job, "no.such"), 404)


def test_a_trace_ends_at_the_row_of_the_edition(job: Job, person: Visitor) -> None:
    """The link leads to the table's page, where the row has the id that it names and holds the value that was told."""
    ends: dict[str, str] = {}
    for page in figures_from(person, job, "price").values():
        for row in ROW.findall(page):
            for link in re.findall(r'href="(/editions/[^"]*)"', row):
                ends[link] = words(row)
    tables = {link.split("/tables/")[1].partition("#")[0] for link in ends if "/tables/" in link}
    assert tables >= {"labour", "materials", "production", "overheads"}
    by_money = 0
    for link, told in ends.items():
        address, _, id = link.partition("#")
        row = re.search(rf'<tr id="{re.escape(id)}">(.*?)</tr>', person.see(address), re.S)
        if row is None:  # a field that the edition leaves to its default
            assert id.replace("row-", "").replace("~2f", "/") not in words(person.text), link
        elif value := re.search(r" ([\d,]+\.?\d*) (?:USD|%)", told):
            by_money += 1
            assert Decimal(value[1].replace(",", "")) in numbers(row[1]), (link, told)
    assert by_money > 8
    wage = person.see(why(job, WAGE))
    assert f'/editions/{job.office.edition}/tables/labour#row-journeyman">Labour, Journeyman, wage</a>' in wage


def test_a_line_of_the_schedule_is_led_to_and_named(job: Job, person: Visitor) -> None:
    page = person.see(why(job, LINE))
    link = re.search(rf'href="(/schedules/{job.first}\?line=0#line-0)">line 1 of the schedule</a>, A: quantity', page)
    assert link is not None, words(page)
    assert '<tr id="line-0">' in person.see(link[1])


def test_packs_are_told_by_their_count_and_price(job: Job, person: Visitor) -> None:
    page = person.see(why(job, PACK))
    told = [words(row) for row in ROW.findall(page)]
    (bought,) = [
        x for x in job.api.get(f"/v1/estimates/{job.estimate}/materials").json()["items"] if x["code"] == "liquid"
    ]
    amount = Decimal(0)
    for pack in bought["packs"]:
        assert told.pop(0).startswith(f"Packs of {pack['size']} {pack['count']} ")
        amount += pack["count"] * max(numbers(told.pop(0).partition(" USD")[0]))
    assert amount == Decimal(bought["amount"]) and told.pop().startswith("needed ") and not told


def test_what_is_made_from_many_is_shown_in_pages(office: Office, api: Api) -> None:
    made = make(office, api, 120)
    person = Visitor(make_person(office, "estimator", "estimator@build.example").client)
    address = f"/estimates/{made['estimate']}/why/marks.weight?by=price"
    first = ROW.findall(person.see(address))
    (more,) = re.findall(r'href="\?([^"]*)">Next lines', person.text)
    rest = ROW.findall(person.see(address.partition("?")[0] + f"?{more}"))
    assert (len(first), len(rest)) == (100, 20) and len({words(row) for row in (*first, *rest)}) == 120
    assert ">Price</a>" in person.text and "Next lines" not in person.text and "First lines" in person.text


def test_a_share_is_told_by_what_is_shared(job: Job, person: Visitor) -> None:
    page = words(person.see(why(job, "mark.0.price")))
    assert "Price × weight ÷ all weights" in page and "Rounded down to" in page


def test_rates_and_sentences_are_written_in_the_reader_s_way(job: Job) -> None:
    document = read_case("golden", "edition.json") | {"effective_from": "2027-02-01"}
    document["tables"]["labour"][0]["wage"] = "4118.5"
    approve(job.office.company, job.office.rate_book, job.office.drafter, job.office.approver, document)
    job.estimate = job.api.estimate(job.request | {"schedule": job.first}).json()["id"]
    person = job.person("estimator")
    assert "4,118.50 USD/hour" in person.see(why(job, WAGE))
    price = job.api.get(f"/v1/estimates/{job.estimate}").json()
    basis = next(row["basis"] for row in price["build_up"] if re.search(r"\d{4}\.\d\d", row["basis"]))
    amount = re.search(r"\d{4,}\.\d\d", basis)
    assert amount is not None
    page = words(person.see(f"/estimates/{job.estimate}"))
    assert basis.replace(amount[0], f"{float(amount[0]):,.2f}") in page and amount[0] not in page
    german = person.client.get(why(job, WAGE), HTTP_ACCEPT_LANGUAGE="de").content.decode()
    assert "4.118,50 USD/hour" in german


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("4 % of materials 2401.50", "4 % of materials 2,401.50"),
        ("margin 12.5 % of the price; cost 46316.00.", "margin 12.5 % of the price; cost 46,316.00."),
        ("price by hand, 2026; up to 100000", "price by hand, 2026; up to 100,000"),
        ("W1001, W-1001.50, 07 27 00, 03 30 00.10, 2027-03-15, 1234.5/2", None),
        ("v1.10000 and A10000.5 and 10000x", None),
    ],
)
def test_numbers_in_a_sentence(text: str, written: str | None) -> None:
    assert make_reader("en-US", "UTC").numbers_in(text) == (written or text)
    if written:
        assert make_reader("de", "UTC").numbers_in("cost 2401.50") == "cost 2.401,50"


def test_the_fingerprint_says_what_it_is_for(job: Job, person: Visitor) -> None:
    page: Any = words(person.see(f"/estimates/{job.estimate}"))
    assert "Fingerprint of all inputs v1:" in page and "same fingerprint" in page
