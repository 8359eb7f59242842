"""Bad input: every fault at once, by the core with its pointer and by the command with file, line and column.

The rows stand in bad_documents (values) and bad_texts (the text itself).
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from estimating.core.job import cost_request
from estimating.intake.reading import read_file
from rates.core.card import EditionSource
from rates.core.jsontext import read_json
from rates.core.problems import Problem, Refused
from tests.core.bad_documents import ASSUMPTIONS, DROPPED, LINES, RATES, Bad, edited
from tests.core.bad_texts import CSV_TEXTS, JSON_TEXTS, TOLD_TEXTS, BadText
from tests.core.command_line import GOLDEN, run

REQUEST: Any = read_json((GOLDEN / "request.json").read_bytes())
EDITION: Any = read_json((GOLDEN / "edition.json").read_bytes())
DOCUMENTS = (*LINES, *ASSUMPTIONS, *RATES)
by_document = pytest.mark.parametrize("bad", DOCUMENTS, ids=lambda bad: bad.name)


def problems(request: Any, *editions: Any) -> tuple[Problem, ...]:
    """What the core refuses a request under editions for; nothing where it is costed."""
    sources = [EditionSource(f"edition {i}", i, "company", edition) for i, edition in enumerate(editions, 1)]
    try:
        cost_request(request, sources)
    except Refused as refused:
        return refused.problems
    return ()


def value_at(document: Any, pointer: str) -> Any:
    """The value at a pointer, or of its nearest ancestor that exists."""
    for step in (part.replace("~1", "/").replace("~0", "~") for part in pointer.split("/")[1:]):
        if isinstance(document, list) and step.isdigit() and int(step) < len(document):
            document = document[int(step)]
        elif isinstance(document, dict) and step in document:
            document = document[step]
        else:
            break
    return document


def value_in_text(text: str, line: int, column: int) -> Any:
    """The JSON value that starts at a line and column of a text."""
    lines = text.split("\n")
    return json.JSONDecoder().raw_decode("\n".join([lines[line - 1][column - 1 :], *lines[line:]]))[0]


def test_the_table_is_long_and_its_rows_differ() -> None:
    assert len(DOCUMENTS) >= 140 and len(JSON_TEXTS) + len(CSV_TEXTS) >= 40
    for table in (DOCUMENTS, JSON_TEXTS, CSV_TEXTS):
        assert len({bad.name for bad in table}) == len(table)


def test_the_golden_example_itself_has_no_fault() -> None:
    assert problems(REQUEST, EDITION) == ()


def test_what_is_missing_is_named_and_said_what_it_is() -> None:
    found = problems({"openings": [{"mark": "A", "quantity": 1, "sides": []}]}, EDITION)
    details = {p.pointer: p.detail for p in found}
    assert details["/work_date"] == "work_date is needed: day of the work, by which rates are looked up"
    assert details["/openings/0/sides"] == "a list of one or more of sill, jambs, head is expected"


@by_document
def test_a_bad_document_is_refused_by_the_core_with_every_fault(bad: Bad) -> None:
    found = problems(edited(REQUEST, bad.request), edited(EDITION, bad.edition))
    assert sorted((p.document, p.pointer, p.code) for p in found) == sorted(bad.faults)
    assert all(0 < len(p.detail) < 800 and p.detail.isprintable() for p in found)


@by_document
def test_a_bad_document_is_refused_by_the_command_at_its_place(bad: Bad, tmp_path: Path) -> None:
    written = {"request": edited(REQUEST, bad.request), "edition": edited(EDITION, bad.edition)}
    texts = {name: json.dumps(value, indent=2) for name, value in written.items()}
    for name, text in texts.items():
        (tmp_path / f"{name}.json").write_text(text)
    ended = run(tmp_path / "request.json", "--rates", tmp_path / "edition.json")
    assert (ended.status, ended.out) == (1, "")
    assert sorted((told.file, told.pointer) for told in ended.faults) == sorted(
        (f"{document}.json", pointer) for document, pointer, _ in bad.faults
    )
    for told in ended.faults:
        name = told.file.removesuffix(".json")
        assert value_in_text(texts[name], told.line, told.column) == value_at(written[name], told.pointer)


@pytest.mark.parametrize("bad", JSON_TEXTS, ids=lambda bad: bad.name)
@pytest.mark.parametrize("which", ["request", "schedule", "assumptions", "edition"])
def test_a_text_that_is_no_sound_json_is_refused_in_any_file(bad: BadText, which: str, tmp_path: Path) -> None:
    path = tmp_path / f"{which}.json"
    path.write_bytes(bad.data)
    schedule = GOLDEN.parent / "schedules" / "duplex.csv"
    arguments: dict[str, tuple[str | Path, ...]] = {
        "request": (path,),
        "schedule": (path, "--request", GOLDEN.parent.parent.parent / "estimating" / "demo" / "assumptions.json"),
        "assumptions": (schedule, "--request", path),
        "edition": (GOLDEN / "request.json", "--rates", path),
    }
    ended = run(*arguments[which])
    assert (ended.status, ended.out) == (1, "")
    told = [(fault.line, fault.column, fault.pointer) for fault in ended.faults if fault.file == path.name]
    assert told == list(bad.places)


@pytest.mark.parametrize("bad", JSON_TEXTS, ids=lambda bad: bad.name)
def test_a_text_that_is_no_sound_json_has_its_codes(bad: BadText) -> None:
    with pytest.raises(Refused) as refused:
        read_json(bad.data)
    assert [p.code for p in refused.value.problems] == list(bad.codes)


@pytest.mark.parametrize("bad", CSV_TEXTS, ids=lambda bad: bad.name)
def test_a_bad_csv_is_refused_with_every_fault_at_its_place(bad: BadText, tmp_path: Path) -> None:
    path = tmp_path / "schedule.csv"
    path.write_bytes(bad.data)
    ended = run(path)
    assert (ended.status, ended.out) == (1, "")
    assert {fault.file for fault in ended.faults} == {"schedule.csv"}
    assert [(fault.line, fault.column, fault.pointer) for fault in ended.faults] == list(bad.places)


@pytest.mark.parametrize(("name", "data", "sentence"), TOLD_TEXTS)
def test_what_a_csv_holds_beside_its_lines_is_told_once(name: str, data: bytes, sentence: str) -> None:
    told = [question.sentence for question in read_file(data).questions if question.severity == "to_know"]
    assert told == [sentence], name


def test_faults_of_all_files_come_at_once(tmp_path: Path) -> None:
    (tmp_path / "schedule.csv").write_text(
        "mark,count,width_mm,height_mm,hue\nA,-1,0,900,red\nB,1,900\nA,1,900,x,red\n"
    )
    (tmp_path / "request.json").write_text(
        '{"work_date": "soon",\n "method": "fluid", "crew": {"members": []},\n "hue": 1}'
    )
    bad = edited(EDITION, {"/currency": "XXY", "/tables/labour/0/wage": "-1", "/tables/overheads": DROPPED})
    (tmp_path / "edition.json").write_text(json.dumps(bad, indent=2))
    (tmp_path / "later.json").write_text('{"effective_from": NaN}')
    files = [tmp_path / name for name in ("schedule.csv", "request.json", "edition.json", "later.json")]
    ended = run(files[0], "--request", files[1], "--rates", files[2], "--rates", files[3])
    assert ended.status == 1
    assert [(told.file, told.pointer) for told in ended.faults] == [
        *[("schedule.csv", "")] * 3,
        ("request.json", "/work_date"),
        ("request.json", "/crew/members"),
        ("request.json", "/hue"),
        ("edition.json", "/currency"),
        ("edition.json", "/tables/overheads"),
        ("edition.json", "/tables/labour/0/wage"),
        ("later.json", "/effective_from"),
    ]


def test_two_currencies_of_a_season_split_are_refused_in_the_edition_of_the_date(tmp_path: Path) -> None:
    later = edited(EDITION, {"/effective_from": "2027-06-01", "/currency": "CAD"})
    parts = [{"work_date": "2027-03-15", "openings": ["A"]}, {"work_date": "2027-07-01"}]
    request = edited(REQUEST, {"/mobilisations": parts})
    assert [(p.document, p.pointer, p.code) for p in problems(request, EDITION, later)] == [
        ("edition", "/currency", "mixed_currencies")
    ]
    for name, document in (("request", request), ("edition", EDITION), ("later", later)):
        (tmp_path / f"{name}.json").write_text(json.dumps(document, indent=2))
    ended = run(
        tmp_path / "request.json", *(x for name in ("edition", "later") for x in ("--rates", tmp_path / f"{name}.json"))
    )
    assert [(told.file, told.line, told.pointer) for told in ended.faults] == [("edition.json", 4, "/currency")]


@pytest.mark.parametrize("kind", ["missing", "folder", "empty", "binary", "pdf", "utf-16", "nul"])
@pytest.mark.parametrize("which", ["file", "request", "edition"])
def test_what_cannot_be_read_is_one_sentence(kind: str, which: str, tmp_path: Path) -> None:
    path = tmp_path / "thing"
    if kind == "folder":
        path.mkdir()
    elif kind != "missing":
        data = {"empty": b"", "binary": b"PK\x03\x04\0\0", "pdf": b"%PDF-1.7", "utf-16": b"\xff\xfem\0", "nul": b"\0\0"}
        path.write_bytes(data[kind])
    arguments: dict[str, tuple[str | Path, ...]] = {
        "file": (path,),
        "request": (GOLDEN.parent / "schedules" / "duplex.csv", "--request", path),
        "edition": (GOLDEN / "request.json", "--rates", path),
    }
    ended = run(*arguments[which])
    assert (ended.status, ended.out) == (1, "")
    assert ended.err.startswith(f"{path}:") and "Traceback" not in ended.err
    assert len(ended.err.splitlines()) <= 6


def test_a_file_of_more_than_100_mb_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "huge.csv"
    with path.open("wb") as file:
        file.truncate(100_000_001)
    ended = run(path)
    assert (ended.status, ended.err) == (1, f"{path}: the file has more than 100,000,000 bytes\n")


def test_a_thousand_faults_are_listed_and_the_rest_counted(tmp_path: Path) -> None:
    path = tmp_path / "schedule.csv"
    lines = [{"mark": "A", "quantity": -1, "width": "900 mm", "height": "900 mm"}] * 5_000
    path.with_suffix(".json").write_text(json.dumps(lines))
    ended = run(path.with_suffix(".json"))
    assert ended.status == 1
    assert len(ended.faults) == 1_001
    assert "4,000 more faults" in ended.err
    # a person's sheet with the same fault in each line is asked once
    path.write_text("mark,count,width_mm,height_mm\n" + "".join(f"A{n},-1,900,900\n" for n in range(5_000)))
    (asked,) = run(path).faults
    assert (asked.line, asked.column) == (2, 2) and "and 4,994 more lines. How many openings are there?" in asked.detail
