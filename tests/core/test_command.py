"""`manage.py estimate` as people use it: the report, exit statuses, where text goes, what a closed reader does."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from estimating.core.kinds import METHODS
from estimating.outputs.cautions import ALWAYS
from rates.core.jsontext import read_json
from tests.core.command_line import GOLDEN, GOLDEN_FILES, ROOT, run

DEMO = ROOT / "estimating" / "demo"
SCHEDULES = ROOT / "tests" / "data" / "schedules"
SECTIONS = (
    "TOTALS",
    "BUILD-UP (USD)",
    "BY MARK (USD)",
    "HOURS",
    "MATERIALS (USD)",
    "CUT LENGTHS, ROUNDED UP TO 1/8 IN",
    "EQUIPMENT (USD)",
    "REMARKS",
    "CHECKS",
    "CAUTIONS",
)


def section(text: str, title: str) -> str:
    """The lines of a report below a title."""
    return text.split(f"\n\n{title}\n")[1].split("\n\n")[0]


def process(*arguments: str | Path, **options: Any) -> subprocess.CompletedProcess[str]:
    """The command as a process of its own."""
    settings: dict[str, Any] = {"capture_output": True, "text": True, "timeout": 120, "cwd": ROOT} | options
    return subprocess.run(
        [sys.executable, "manage.py", "estimate", *map(str, arguments)],
        check=False,
        **settings,
    )


def without_progress(told: str) -> str:
    """What a process says beside its progress, which comes where its work takes a second: a machine may stand still."""
    return re.sub(r"(?m)^(starting|.* \([1-9] of [1-9]\)) (…|\\u2026)\n", "", told)


def amounts(text: str) -> list[str]:
    """The last word of each line, commas taken out."""
    return [line.split()[-1].replace(",", "") for line in text.splitlines() if line.split()]


def test_the_golden_report_has_every_section_and_figure() -> None:
    ended = run(*GOLDEN_FILES)
    assert (ended.status, ended.err) == (0, "")
    places = [ended.out.index(f"\n\n{title}\n") for title in SECTIONS]
    assert places == sorted(places)
    expected = read_json((GOLDEN / "expected.json").read_bytes())
    assert isinstance(expected, dict)
    totals = expected["totals"]
    told = section(ended.out, "TOTALS")
    # 283.333333 ft, 190.555556 ft2, 12.0025 h and 103.4375 of the document, rounded half up
    for figure in (" 283.3 ft ", " 190.6 ft2 ", " 12.00 ", " 103.44 USD"):
        assert figure in f"{told} "
    found = amounts(section(ended.out, "BUILD-UP (USD)"))
    steps = [row["amount"] for row in expected["build_up"]]
    with_sums = [*steps[:6], totals["direct_cost"], *steps[6:8], totals["cost"], *steps[8:], totals["price"]]
    assert [amount for amount in found if re.fullmatch(r"[0-9]+\.[0-9]{2}", amount) and amount != "1464.38"] == [
        amount for amount in with_sums if amount != "1464.38"
    ]
    marks = [re.split(r"  +", line.strip())[:4] for line in section(ended.out, "BY MARK (USD)").splitlines()[2:]]
    assert [(mark, count, price) for mark, count, _, price in marks] == [
        (row["mark"], str(row["quantity"]), row["price"]) for row in expected["by_mark"]
    ]
    bought = section(ended.out, "MATERIALS (USD)")
    # 4.751515 and 5.464242 gal, 313.333333 and 329 ft
    for figure in (" 4.75 ", " 5.46 ", " 313.3 ", " 329.0 ", *(row["amount"] for row in expected["materials"])):
        assert figure in bought
    assert "1×5 gal + 1×1 gal" in section(ended.out, "MATERIALS (USD)")
    assert "none" in section(ended.out, "REMARKS")


def test_cut_lengths_are_feet_and_inches_rounded_up_to_an_eighth() -> None:
    rows = section(run(*GOLDEN_FILES).out, SECTIONS[5]).splitlines()[2:]
    # golden pieces: 88, 72, 64, 52, 48, 40 and 4 in (tests/data/golden/expected.json)
    assert [re.split(r"  +", row.strip())[1] for row in rows] == [
        "7'-4\"",
        "6'-0\"",
        "5'-4\"",
        "4'-4\"",
        "4'-0\"",
        "3'-4\"",
        '4"',
    ]
    case = ROOT / "tests" / "data" / "cases" / "01-round-top"
    report = run(case / "request.json", "--rates", case / "edition.json").out
    rows = section(report, SECTIONS[5]).splitlines()[2:]
    # its pieces of 72.828921 and 62.203535 in: rounded up 72 7/8 and 62 1/4
    lengths = [re.split(r"  +", row.strip())[1] for row in rows]
    assert "6'-0 7/8\"" in lengths and "5'-2 1/4\"" in lengths


def test_cut_lengths_of_metric_work_are_whole_millimetres(tmp_path: Path) -> None:
    told = read_json((DEMO / "assumptions.json").read_bytes())
    assert isinstance(told, dict)
    path = tmp_path / "request.json"
    path.write_text(json.dumps(told | {"units": "metric"}))
    report = run(SCHEDULES / "duplex.csv", "--request", path).out
    rows = section(report, "CUT LENGTHS, ROUNDED UP TO 1 MM").splitlines()[2:]
    # a sill of 4835 mm, and a jamb of 2200 mm with two turns of 2 in (50.8 mm): 2301.6
    lengths = [re.split(r"  +", row.strip())[1] for row in rows]
    assert "4835 mm" in lengths and "2302 mm" in lengths


@pytest.mark.parametrize(
    "arguments",
    [
        GOLDEN_FILES,
        (DEMO / "clinic-a.json",),
        (DEMO / "clinic-b.json",),
        (DEMO / "clinic-a.csv",),
        (DEMO / "hall-a.json",),
        (DEMO / "hall-b.json",),
        *((SCHEDULES / f"{name}.csv",) for name in ("office", "institute", "duplex")),
    ],
    ids=lambda arguments: Path(arguments[0]).name,
)
def test_a_report_fits_80_columns_and_carries_the_cautions(
    arguments: tuple[str | Path, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)  # a path is printed as it was given, however long
    ended = run(*(str(argument).removeprefix(f"{ROOT}/") for argument in arguments))
    assert (ended.status, ended.err) == (0, "")
    assert [line for line in ended.out.splitlines() if len(line) > 80 or line != line.rstrip()] == []
    assert "\x1b" not in ended.out, "no colour is needed"
    told = " ".join(ended.out.split())
    for caution in ALWAYS:
        assert caution in told
    assert ended.out.endswith("\n") and not ended.out.endswith("\n\n")


def test_a_demo_says_that_it_is_invented() -> None:
    whole, bare = run(DEMO / "clinic-a.json").out, run(DEMO / "clinic-a.csv").out
    for text, which in ((whole, "rates were used"), (bare, "rates and assumptions were used")):
        assert f"INVENTED DEMO. The demo's {which}. They are invented" in " ".join(text.split())
        assert "Note of rates.json: Invented rates" in " ".join(text.split())
    assert "Clinic by the Alder Brook (invented)" in whole
    assert "INVENTED" not in run(*GOLDEN_FILES).out
    assert "Note of edition.json: Invented rates for a worked example" in " ".join(run(*GOLDEN_FILES).out.split())


def test_the_edition_in_force_on_the_work_date_is_used(tmp_path: Path) -> None:
    told = read_json((DEMO / "clinic-a.json").read_bytes())
    assert isinstance(told, dict)
    prices = set()
    for day, edition in (("2027-03-31", "rates.json"), ("2027-04-01", "rates-next.json")):
        path = tmp_path / "request.json"
        path.write_text(json.dumps(told | {"work_date": day}))
        by_default = run(path, "--json").out
        both = run(path, "--rates", DEMO / "rates-next.json", "--rates", DEMO / "rates.json", "--json").out
        alone = run(path, "--rates", DEMO / edition, "--json").out
        found = [json.loads(text) for text in (by_default, both, alone)]
        assert {document["edition"]["id"] for document in found} == {edition}
        assert len({document["input_digest"] for document in found}) == 1
        prices.add(found[0]["totals"]["price"])
    assert len(prices) == 2


def test_a_long_list_is_cut_and_what_is_left_out_is_summed(tmp_path: Path) -> None:
    lines = "".join(f"W{i:03},{1 + i % 3},{900 + i},1200\n" for i in range(200))
    path = tmp_path / "schedule.csv"
    path.write_text("mark,count,width_mm,height_mm\n" + lines)
    report = run(path).out
    document = json.loads(run(path, "--json").out)
    rows = section(report, "BY MARK (USD)").splitlines()[2:]
    assert len(rows) == 31 and rows[-1].strip().startswith("170 more marks")
    prices = [Decimal(re.split(r"  +", row.strip())[3].replace(",", "")) for row in rows]
    assert sum(prices) == Decimal(document["totals"]["price"])
    counts = [int(re.split(r"  +", row.strip())[1]) for row in rows]
    assert sum(counts) == document["totals"]["openings"] == sum(1 + i % 3 for i in range(200))
    assert re.search(r"and [0-9]+ more lengths; --json lists them all", report)
    assert len(report.splitlines()) < 170


@pytest.mark.parametrize(
    "arguments",
    [(), ("a", "b"), ("a", "--rates"), ("a", "--json", "--why", "price"), ("a", "--colour")],
    ids=lambda arguments: " ".join(arguments) or "none",
)
def test_wrong_usage_ends_with_2(arguments: tuple[str, ...]) -> None:
    ended = process(*arguments)
    assert (ended.returncode, ended.stdout) == (2, "")
    assert ended.stderr.startswith("usage: manage.py estimate") and "Traceback" not in ended.stderr


def test_a_whole_request_beside_a_request_is_wrong_usage() -> None:
    ended = run(*GOLDEN_FILES, "--request", DEMO / "assumptions.json")
    assert (ended.status, ended.out) == (2, "")
    assert "leave --request out" in ended.err


def test_a_schedule_beside_a_request_with_openings_is_refused() -> None:
    ended = run(SCHEDULES / "duplex.csv", "--request", GOLDEN / "request.json")
    assert ended.status == 1
    assert [(told.file, told.line, told.column, told.pointer) for told in ended.faults] == [
        ("request.json", 18, 15, "/openings")
    ]


def test_faults_of_the_demo_s_assumptions_say_why_they_were_read() -> None:
    ended = run(SCHEDULES / "duplex.csv", "--rates", GOLDEN / "edition.json")
    assert ended.status == 1
    assert {told.file for told in ended.faults} == {"assumptions.json"}
    assert ended.err.endswith("No --request was given, so the demo's assumptions were used.\n")


def test_a_refusal_by_a_process_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "bad\x1b[31m.csv"
    path.write_text("mark,count,width_mm,height_mm\nA,-1,900,900\n")
    ended = process(path)
    assert (ended.returncode, ended.stdout) == (1, "")
    shown = str(path).replace("\x1b", "\\x1b")
    asked = "blocks_costing: A (B2) '-1'. How many openings are there? (B2) Answers: set_aside | a whole number."
    assert f"\n{shown}:2:2: {asked}\n" in ended.stderr
    assert "\x1b" not in ended.stderr


def test_a_reader_that_goes_away_ends_the_command_quietly() -> None:
    command = [sys.executable, "manage.py", "estimate", *GOLDEN_FILES, "--json"]
    reading, writing = os.pipe()
    os.close(reading)
    ended = subprocess.run(command, cwd=ROOT, stdout=writing, stderr=subprocess.PIPE, text=True, check=False)
    os.close(writing)
    assert (ended.returncode, without_progress(ended.stderr)) == (141, "")


def test_a_full_disk_is_one_sentence() -> None:
    if not Path("/dev/full").exists():
        pytest.skip("this machine has no /dev/full")
    with Path("/dev/full").open("w") as full:
        ended = process(*GOLDEN_FILES, stdout=full, stderr=subprocess.PIPE, capture_output=False)
    assert ended.returncode == 74
    (sentence,) = without_progress(ended.stderr).splitlines()
    assert sentence.startswith("The answer can't be written: ")


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "utf-8"])
def test_a_terminal_of_any_encoding_gets_the_report(encoding: str) -> None:
    ended = process(*GOLDEN_FILES, env={**os.environ, "PYTHONIOENCODING": encoding}, text=False)
    said = without_progress(ended.stderr.decode(encoding))  # type: ignore[attr-defined]
    assert (ended.returncode, said) == (0, "")
    assert b"1,655.00" in ended.stdout  # type: ignore[operator]


def test_the_json_is_ascii_and_one_object() -> None:
    text = run(*GOLDEN_FILES, "--json").out
    assert text.isascii() and text.endswith("}\n")
    document = json.loads(text)
    beside = {"openings", "materials", "equipment", "hours", "pieces"}
    assert beside <= set(document) and {"totals", "build_up", "by_mark", "remarks", "cautions"} <= set(document)
    assert {row["method"] for row in document["openings"]} <= set(METHODS)
