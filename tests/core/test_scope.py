"""in file = priced + set aside + alternates: counted apart from the code, over random requests and by hand."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from estimating.core.job import cost, read_request
from estimating.core.open_questions import OpenQuestion, OpenQuestions
from estimating.intake.file_scope import file_scope
from estimating.intake.open_questions import MOST_TOLD, open_questions
from estimating.intake.questions import Question
from estimating.intake.reading import Options, read_file
from estimating.outputs.answer import answer
from estimating.outputs.printed_json import whole_document
from estimating.outputs.report import Heading, report
from tests.core.invented import costed, opening, request, sources
from tests.core.random_estimates import random_case
from tests.core.random_estimates import sources as sources_of

SEEDS = range(300)
NOTHING_OPEN = {"blocks_issue": 0, "to_know": 0}


def what_becomes_of(line: dict[str, Any], only_external: bool) -> str:
    """The reading of rules for one line: excluded goes before interior, and both before an alternate."""
    if "excluded" in line:
        return str(line["excluded"]["reason"])
    if only_external and line.get("external") is False:
        return "interior"
    return f"alternate {line['alternate']}" if "alternate" in line else "priced"


def scope_by_hand(document: dict[str, Any]) -> dict[str, Any]:
    """The scope of a request document, counted line by line from what it says."""
    counts: Counter[str] = Counter()
    for line in document["openings"]:
        counts[what_becomes_of(line, document.get("only_external", False))] += line["quantity"]
    priced = counts.pop("priced", 0)
    alternates = {name: n for name, n in counts.items() if name.startswith("alternate ")}
    return {
        "in_file": sum(line["quantity"] for line in document["openings"]),
        "priced": priced,
        "set_aside": [{"reason": name, "openings": n} for name, n in counts.items() if name not in alternates],
        "alternates": [{"name": name.removeprefix("alternate "), "openings": n} for name, n in alternates.items()],
        "questions": NOTHING_OPEN,
    }


@pytest.mark.parametrize("start", range(0, len(SEEDS), 150))
def test_every_opening_of_a_random_request_is_priced_set_aside_or_an_alternate(start: int) -> None:
    seen: Counter[str] = Counter()
    for seed in SEEDS[start : start + 150]:
        document, editions = random_case(seed)
        found: Any = answer(cost(read_request(document, sources_of(editions))))
        scope = found["scope"]
        assert scope == scope_by_hand(document), seed
        aside = sum(entry["openings"] for entry in scope["set_aside"])
        alternates = sum(entry["openings"] for entry in scope["alternates"])
        assert scope["in_file"] == scope["priced"] + aside + alternates, seed
        assert scope["priced"] == found["totals"]["openings"], seed
        seen.update({name for name, n in (("aside", aside), ("alternates", alternates)) if n})
        seen["interior"] += any(entry["reason"] == "interior" for entry in scope["set_aside"])
        seen["split"] += isinstance(document.get("mobilisations"), list)
    assert all(seen[name] for name in ("aside", "alternates", "interior", "split")), "the cases have all of it"


def test_the_scope_stands_first_in_document_and_json_and_before_the_totals_of_the_report() -> None:
    lines = (opening("A", 4), opening("B", 2, excluded={"reason": "by others"}), opening("C", 3, alternate="2"))
    estimate = costed(request(*lines))
    assert next(iter(answer(estimate))) == next(iter(whole_document(estimate))) == "scope"
    text = report(estimate, Heading("file"))
    part = text[text.index("SCOPE") : text.index("TOTALS")]
    assert [" ".join(row.split()) for row in part.splitlines()[1:] if row] == [
        "openings in the file 9",
        "priced 4",
        "set aside: by others 2",
        "alternate 2 3",
    ]


def test_a_report_sums_the_reasons_past_the_first_few() -> None:
    lines = [opening(f"X{i}", i, excluded={"reason": f"reason {i}"}) for i in range(1, 31)]
    text = report(costed(request(*lines)), Heading("file"))
    assert f"set aside: 18 more reasons {sum(range(13, 31))}" in " ".join(text.split())


def question(number: int, severity: str = "blocks_issue", **fields: Any) -> Question:
    return Question(f"id{number}", "gap_in_marks", severity, f"Sentence {number}.", **fields)


def test_open_questions_are_remarks_and_move_the_digest() -> None:
    asked = open_questions(
        [
            question(1, lines=(1,)),
            question(2, answer="none"),
            question(3, "to_know"),
            question(4, "blocks_costing", answer="x"),
        ]
    )
    assert asked == OpenQuestions(
        1,
        1,
        (
            OpenQuestion("gap_in_marks", "question", "/openings/1", "Sentence 1."),
            OpenQuestion("gap_in_marks", "to_know", "/openings", "Sentence 3."),
        ),
    )
    document = request(opening("A"), opening("B"))
    with_them, without = (cost(read_request(document, sources(), known)) for known in (asked, OpenQuestions()))
    told: Any = answer(with_them)
    assert told["scope"]["questions"] == {"blocks_issue": 1, "to_know": 1}
    assert [(r["code"], r["severity"], r["pointer"], r["detail"]) for r in told["remarks"]] == [
        ("gap_in_marks", "question", "/openings/1", "Sentence 1."),
        ("gap_in_marks", "to_know", "/openings", "Sentence 3."),
    ]
    plain: Any = answer(without)
    assert plain["remarks"] == [] and plain["scope"]["questions"] == NOTHING_OPEN
    assert with_them.input_digest != without.input_digest
    assert {**told, "remarks": 0, "scope": 0, "input_digest": 0} == {
        **plain, "remarks": 0, "scope": 0, "input_digest": 0,
    }  # fmt: skip
    assert costed(document).input_digest == without.input_digest, "inline openings ask nothing"


def test_very_many_questions_are_told_together_and_counted_all() -> None:
    asked = open_questions([question(i) for i in range(MOST_TOLD + 1234)] + [question(9, "to_know")] * 3)
    assert (asked.blocks_issue, asked.to_know, len(asked.told)) == (MOST_TOLD + 1234, 3, MOST_TOLD + 1 + 3)
    last = asked.told[MOST_TOLD]
    assert (last.code, last.severity) == ("more_questions", "question")
    assert last.detail == "1,234 more questions on the schedule: 1,234 gap_in_marks"


def test_typical_storeys_and_multipliers_are_in_the_file() -> None:
    text = "MARK,QTY,WIDTH (IN),HEIGHT (IN),STOREY,ACCESS\nW1,2 TYP x 3,36,48,1,ground\nW2,2,36,36,2-4,ground\n"
    asked = {q.code: q.id for q in read_file(text.encode()).questions}
    from_answers = {asked["typical_count"]: "6", asked["typical_storeys"]: "on_each"}
    intake = read_file(text.encode(), Options(answers=from_answers))
    assert sum(line["quantity"] for line in intake.lines) == 6 + 2 * 3, "by hand"
    assert file_scope(intake.lines, "").in_file == 12


def test_a_file_tells_what_becomes_of_its_openings_even_of_lines_that_are_not_read_yet() -> None:
    rows = [
        {"mark": "A", "quantity": 3, "width": "36 in", "height": "48 in"},
        {"mark": "B", "quantity": 2, "width": "36 in", "height": "wide"},
        {"mark": "C", "width": "36 in", "height": "48 in"},
        {"mark": "D", "quantity": "4", "excluded": {"reason": "by others"}},
        {"mark": "E", "quantity": 5, "width": "36 in", "height": "48 in", "alternate": "1"},
    ]
    found = file_scope(rows, "")
    assert (found.in_file, found.scope.priced, found.unread_lines, found.unread_openings) == (14, 3, 2, 2)
    assert (found.scope.set_aside, found.scope.alternates) == ((("by others", 4),), (("1", 5),))
