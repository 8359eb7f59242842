"""Pages of a project with many openings beside the API's own answers for the same data, alternating, on the service.

    python -m tests.benchmarks.pages [--lines 10000] [--rounds 7] [--only WORDS]

Milliseconds from sending to the last byte over one kept connection each, medians. A page that shows what several
answers of the API hold is put beside all of them together; two show what none holds (openings by mark, sums of bids).
Ratios above the bound are marked.
"""

from __future__ import annotations

import argparse
import json
import statistics
import sys
import tempfile
import time
import uuid
from collections.abc import Sequence
from http.cookies import SimpleCookie
from pathlib import Path
from urllib.parse import urlencode

from tests.benchmarks.service import Kept, request_of
from tests.service import Remote, started

BOUND = 2
# page -> the answers of the API that hold what it shows, so many items as the page has lines
PAGES: dict[str, tuple[str, ...]] = {
    "/": ("bids-due?limit=20", "projects?limit=50", "quotes?state=drafted&limit=20", "quotes?state=issued&limit=20",
          "notices-due?limit=20"),
    "/projects": ("projects?limit=50", "projects/{project}/opening-schedules?limit=1",  # of one of its projects
                  "projects/{project}/estimates?limit=1", "quotes?project={project}&limit=1"),
    "/projects/{project}": ("projects/{project}", "projects/{project}/opening-schedules?limit=50",
                            "projects/{project}/estimates?limit=50", "quotes?project={project}&limit=50"),
    "/projects/{project}/history": ("projects/{project}", "projects/{project}/history?limit=100",
                                    "projects/{project}/history.svg"),
    "/projects/{project}/change-orders": ("projects/{project}", "projects/{project}/change-orders",
                                          "projects/{project}/contract"),
    "/projects/{project}/compare": ("projects/{project}", "projects/{project}/estimates?state=costed"),
    "/projects/{project}/quotes/new": ("projects/{project}", "projects/{project}/estimates?state=costed",
                                       "quotes?project={project}&limit=5", "quote-texts"),
    "/schedules/{schedule}": ("opening-schedules/{schedule}", "opening-schedules/{schedule}/reading?limit=100",
                              "opening-schedules/{schedule}/report"),
    "/schedules/{schedule}/file": ("opening-schedules/{schedule}", "opening-schedules/{schedule}/reading?limit=100"),
    "/schedules/{schedule}/questions": ("opening-schedules/{schedule}", "opening-schedules/{schedule}/questions"),
    "/schedules/{schedule}/edits": ("opening-schedules/{schedule}", "opening-schedules/{schedule}/report"),
    "/schedules/{schedule}/lines/0": ("opening-schedules/{schedule}", "opening-schedules/{schedule}/reading?limit=1"),
    "/schedules/{schedule}/changes?from={before}": ("opening-schedules/{schedule}",
                                                    "opening-schedules/{schedule}/changes?from={before}"),
    "/schedules/{schedule}/site": ("opening-schedules/{schedule}", "opening-schedules/{schedule}/report",
                                   "rate-books", "estimates?limit=10"),
    "/estimates/{estimate}": ("estimates/{estimate}", "projects/{project}", "estimates/{estimate}/hours"),
    **{f"/estimates/{{estimate}}/{part}": ("estimates/{estimate}", "projects/{project}",
                                           f"estimates/{{estimate}}/{part}?limit=100")
       for part in ("materials", "equipment", "alternates", "methods", "cost-codes", "purchase-list")},
    "/estimates/{estimate}/openings": ("estimates/{estimate}", "projects/{project}",  # their sizes are the schedule's
                                       "estimates/{estimate}/openings?limit=100",
                                       "opening-schedules/{schedule}/reading?limit=100"),
    "/estimates/{estimate}/assumptions": ("estimates/{estimate}", "projects/{project}",
                                          "estimates/{estimate}/sign-offs"),
    "/estimates/{estimate}/hours": ("estimates/{estimate}", "projects/{project}", "estimates/{estimate}/hours",
                                    "estimates/{estimate}/derivations/hours.standard"),  # its picture's figures
    **{f"/estimates/{{estimate}}/{part}": ("estimates/{estimate}", "projects/{project}",
                                           f"estimates/{{estimate}}/{part}")
       for part in ("pieces", "cut-plan")},
    "/estimates/{estimate}/why/price": ("estimates/{estimate}", "projects/{project}",
                                        "estimates/{estimate}/derivations/price"),
    "/estimates/{estimate}/what-if": ("estimates/{estimate}", "projects/{project}", "rate-books",
                                      "rate-books/{book}/in-force?work_date=2027-03-15"),
    "/comparisons/{comparison}": ("comparisons/{comparison}", "projects/{project}"),
    "/quotes": ("quotes?limit=50",),
    "/quotes/{quote}": ("quotes/{quote}", "quotes/{quote}/letter.html", "projects/{project}"),
    "/quotes/{quote}/edit": ("quotes/{quote}", "quote-texts", "projects/{project}",
                             "projects/{project}/opening-schedules"),
    "/quotes/{quote}/offers": ("quotes/{quote}", "projects/{project}"),
    "/quotes/{quote}/issue": ("quotes/{quote}", "quotes/{quote}/letter.html", "projects/{project}"),
    "/quotes/{quote}/documents/letter.html": ("quotes/{quote}/letter.html",),
    "/search?words=w1": (),
    "/overview": (),
    "/audit": ("audit?limit=50", "members"),
    "/rates": ("rate-books",),
    "/editions/{edition}": ("editions/{edition}", "editions/{edition}/steps", "editions/{edition}/impact"),
    "/people": ("members?limit=200",),
    "/texts": ("quote-texts",),
}  # fmt: skip


class Visitor(Kept):
    """A person's browser: one kept connection with the cookie of a session."""

    def __init__(self, base: str, email: str, password: str) -> None:
        super().__init__(base, None)
        jar: SimpleCookie = SimpleCookie()
        form = self.ask("GET", "/sign-in", b"", jar)
        token = form.partition('name="csrfmiddlewaretoken" value="')[2].partition('"')[0]
        typed = urlencode({"csrfmiddlewaretoken": token, "email": email, "password": password})
        self.ask("POST", "/sign-in", typed.encode(), jar)
        assert "sessionid" in jar, "nobody has signed in"
        told = "; ".join(f"{name}={one.value}" for name, one in jar.items())
        self.headers = {"Cookie": told, "Accept": "text/html", "Accept-Language": "en-US"}

    def ask(self, method: str, path: str, body: bytes, jar: SimpleCookie) -> str:
        """The text of an answer, its cookies kept."""
        told = "; ".join(f"{name}={one.value}" for name, one in jar.items())
        fields = {"Cookie": told, "Content-Type": "application/x-www-form-urlencoded", "Accept": "text/html"}
        self.connection.request(method, path, body, fields)
        answer = self.connection.getresponse()
        text = answer.read().decode()
        for field in answer.headers.get_all("Set-Cookie") or ():
            jar.load(field)
        return text


def prepare(client: Remote, lines: int) -> dict[str, str]:
    """Ids of a project with two revisions of so many lines, two estimates, a comparison, a draft of a quote."""
    project = client.send("POST", "/v1/projects", {"name": f"{lines} openings (invented)"})[1]["id"]
    request = json.loads(request_of(client, lines, schedule="tidy"))
    schedules = []
    for more in (0, 1):
        request["openings"][0]["quantity"] = 1 + more
        path = f"/v1/projects/{project}/opening-schedules"
        schedules.append(client.send("POST", path, {"openings": request["openings"]})[1]["id"])
    del request["openings"]
    made = []
    for schedule in schedules:
        status, found, _ = client.estimate(request | {"schedule": schedule}, wait=30)
        assert status in (201, 202), found
        made.append(client.until_ended(found["id"])["id"])
    asked = {"before": made[0], "after": made[1]}
    compared = client.send("POST", "/v1/comparisons", asked, Prefer="wait=30")[1]["id"]
    draft = {"estimate": made[1], "customer": {"name": "Northfield Builders (invented)"}}
    quote = client.send("POST", "/v1/quotes", draft, Idempotency_Key=str(uuid.uuid4()))[1]["id"]
    book = client.get("/v1/rate-books")[1]["items"][0]["id"]
    edition = client.get(f"/v1/rate-books/{book}/editions")[1]["items"][0]["id"]
    return {
        "project": project, "before": schedules[0], "schedule": schedules[1], "estimate": made[1],
        "comparison": compared, "quote": quote, "edition": edition, "book": book,
    }  # fmt: skip


def spent(kept: Kept, path: str) -> float:
    """Milliseconds of one answer."""
    start = time.perf_counter()
    status, content = kept.send("GET", path)
    end = time.perf_counter()
    assert status == 200, (path, status, content[:300])
    return 1000 * (end - start)


def measure(person: Kept, program: Kept, page: str, answers: Sequence[str], rounds: int) -> tuple[float, float]:
    """Median milliseconds of a page, and of the API's answers together."""
    pages, apis = [], []
    for _ in range(rounds):
        pages.append(spent(person, page))
        apis.append(sum(spent(program, f"/v1/{answer}") for answer in answers))
    return statistics.median(pages), statistics.median(apis)


def main(arguments: Sequence[str]) -> int:
    """Prints the table; the exit status is 0 whatever it shows."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--lines", type=int, default=10_000)
    parser.add_argument("--rounds", type=int, default=7)
    parser.add_argument("--only", default="")
    said = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "data"
        with started(folder, RATE_LIMIT="100000") as (client, _):
            key = (folder / "demo-principal.key").read_text().strip()
            made = prepare(Remote(client.base, key), said.lines)
            lines = (folder / "demo-sign-in.txt").read_text().splitlines()
            email, password = next(line.split() for line in lines if line.startswith("principal@"))
            person, program = Visitor(client.base, email, password), Kept(client.base, key)
            print(f"{'page':50} {'page, ms':>9} {'API, ms':>9} {'ratio':>6}")
            for page, answers in PAGES.items():
                if said.only not in page:
                    continue
                told = [answer.format(**made) for answer in answers]
                shown, beside = measure(person, program, page.format(**made), told, said.rounds)
                ratio = f"{shown / beside:6.2f}" if answers else "  none"
                mark = "  above" if answers and shown > BOUND * beside else ""
                print(f"{page:50} {shown:9.1f} {beside:9.1f} {ratio}{mark}", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
