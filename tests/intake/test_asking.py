"""Questions about lines: one for each cause, answered whole, by line or by rule; no answer reaches a later line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from estimating.intake.answer_rules import Rule, rule_of
from estimating.intake.asking import BLOCKS_ISSUE, Asker
from estimating.intake.questions import Asked, Kept
from estimating.intake.reading import Options, read_file

CHOICES = ("ground", "lift", "stage")


def asked(index: int, mark: str = "", storey: str = "L1", cell: str = "", **values: Any) -> Asked:
    mark = mark or f"W{index}"
    return Asked(index, f"{mark} {storey}", cell or f"F{index + 2}", {"mark": mark, "storey": storey, **values})


def sentence(lines: Sequence[Asked]) -> str:
    return f"{len(lines)} lines"


def access(asker: Asker, *lines: Asked, **more: Any) -> dict[int, str]:
    return asker.ask_lines("access_missing", BLOCKS_ISSUE, lines, sentence, choices=CHOICES, **more)


def after(asker: Asker, *, rules: Sequence[Rule] = ()) -> Asker:
    """The asker of the next revision."""
    return Asker(past=asker.kept, rules=rules)


def test_lines_of_one_cause_share_a_question_and_its_answer() -> None:
    first = Asker()
    assert access(first, asked(0), asked(1)) == {}
    question = first.questions[0]
    assert (question.sentence, question.cells, question.lines, len(question.keys)) == (
        "2 lines",
        ("F2", "F3"),
        (0, 1),
        2,
    )
    second = Asker({question.id: "lift"})
    assert access(second, asked(0), asked(1)) == {0: "lift", 1: "lift"}
    assert [q.answer for q in second.questions] == ["lift"]


def test_a_line_that_comes_later_asks_and_the_others_keep() -> None:
    first = Asker()
    access(first, asked(0), asked(1))
    told = Asker({first.questions[0].id: "lift"})
    access(told, asked(0), asked(1))
    later = after(told)
    assert access(later, asked(0, "W9"), asked(1, "W0"), asked(2, "W1")) == {1: "lift", 2: "lift"}
    assert [(q.sentence, q.answer, q.lines) for q in later.questions] == [
        ("1 lines", None, (0,)),
        ("2 lines", "lift", (1, 2)),
    ]


def test_a_line_that_moved_or_changed_asks_and_the_same_line_twice_asks_for_the_second() -> None:
    told = Asker()
    access(told, asked(0))
    told = Asker({told.questions[0].id: "lift"})
    access(told, asked(0))
    assert access(after(told), asked(0, "W0", "L2")) == {}
    assert access(after(told), asked(0, "W0"), asked(1, "W0")) == {0: "lift"}


def test_one_line_of_a_question_is_answered_by_its_key() -> None:
    first = Asker()
    access(first, asked(0), asked(1), asked(2))
    told = Asker({first.questions[0].keys[1]: "stage"})
    assert access(told, asked(0), asked(1), asked(2)) == {1: "stage"}
    assert [(q.lines, q.answer) for q in told.questions] == [((0, 2), None), ((1,), "stage")]


def test_a_rule_answers_what_fits_and_only_proposes_to_what_comes_later() -> None:
    rule = Rule("access_missing", "stage", storey="l2")
    told = Asker(given=[rule])
    assert access(told, asked(0), asked(1, "W1", "L2"), asked(2, "W2", "L2")) == {1: "stage", 2: "stage"}
    assert told.touched == {rule.id: 2}
    assert {key.answer for key in told.kept.values()} == {"stage"} and {k.rule for k in told.kept.values()} == {rule.id}
    later = after(told, rules=[rule])
    assert access(later, asked(0), asked(1, "W1", "L2"), asked(2, "W2", "L2"), asked(3, "W3", "L2")) == {
        1: "stage",
        2: "stage",
    }
    waiting = {q.lines: (q.proposed, q.choices) for q in later.questions if q.open}
    assert waiting == {(0,): (None, CHOICES), (3,): ("stage", ("stage", "ground", "lift"))}


@pytest.mark.parametrize(
    ("conditions", "fits"),
    [
        ({}, [0, 1, 2]),
        ({"column": "D"}, [1]),
        ({"column": "Doors!F"}, []),
        ({"elevation": "north "}, [0, 1]),
        ({"storey": "L1", "elevation": "North"}, [0]),
        ({"mark_prefix": "w0"}, [0]),
        ({"height_from": "10 ft"}, [1, 2]),
        ({"height_from": "10 ft", "height_to": "20 ft"}, [1]),  # from the one, below the other
        ({"height_to": "120 in"}, []),
    ],
)
def test_the_conditions_of_a_rule(conditions: dict[str, str], fits: list[int]) -> None:
    lines = [
        asked(0, elevation="North"),
        asked(1, storey="L2", cell="Windows!D7", elevation="NORTH", height_above_grade="10'-0\""),
        asked(2, elevation="South", height_above_grade="20 ft"),
    ]
    rule = Rule("access_missing", "lift", **conditions)
    assert sorted(access(Asker(given=[rule]), *lines)) == fits
    assert rule_of(rule.entry()) == rule
    assert access(Asker(given=[Rule("door_sides", "lift", **conditions)]), *lines) == {}


def test_two_rules_that_disagree_on_a_line_answer_it_neither_way() -> None:
    rules = [Rule("access_missing", "lift", storey="L1"), Rule("access_missing", "stage", mark_prefix="W1")]
    told = Asker(given=rules)
    assert access(told, asked(0), asked(1)) == {0: "lift"}
    assert [source for source, _ in told.refused] == [rules[1].id]


def test_answers_that_do_not_fit_are_refused_and_change_nothing() -> None:
    rule = Rule("access_missing", "balloon")
    told = Asker(given=[rule])
    assert access(told, asked(0)) == {} and told.refused == [(rule.id, "one of ground, lift, stage is expected")]
    first = Asker()
    access(first, asked(0), open_answer="a word", check=lambda answer, line: f"{line.values['mark']}: no {answer}")
    told = Asker({first.questions[0].id: "rope"})
    assert access(told, asked(0), open_answer="a word", check=lambda answer, line: f"no {answer}") == {}
    assert told.refused == [(first.questions[0].id, "no rope")] and not told.kept


def test_an_answer_kept_from_before_gives_way_to_a_new_one() -> None:
    first = Asker()
    access(first, asked(0))
    key = first.questions[0].keys[0]
    told = Asker({key: "ground"}, past={key: Kept("lift", "rule-1")})
    assert access(told, asked(0)) == {0: "ground"} and told.kept == {key: Kept("ground")}


def test_questions_about_one_thing_are_answered_by_rule_as_well() -> None:
    rule = Rule("unit_unknown", "mm", column="D")
    asker = Asker(given=[rule])
    for column in "CD":
        answer = asker.ask(
            "unit_unknown", BLOCKS_ISSUE, "Which?", about=(column,), choices=("in", "mm"), cells=(f"{column}2",)
        )
        assert answer == ("mm" if column == "D" else None)
    assert asker.touched == {rule.id: 1}


def test_a_refused_answer_leaves_its_question_open() -> None:
    asker = Asker()
    asker.ask("size_unknown", BLOCKS_ISSUE, "What?", about=("W1",), open_answer="a length")
    told = Asker({asker.questions[0].id: "wide"})
    assert told.ask("size_unknown", BLOCKS_ISSUE, "What?", about=("W1",), open_answer="a length") == "wide"
    told.refuse("size_unknown", ("W1",), "not a length")
    assert told.questions[0].open and not told.kept


def test_lines_taken_out_leave_the_question_about_the_others_told_anew() -> None:
    asker = Asker()
    access(asker, asked(0), asked(1), asked(2))
    other = Asker()
    access(other, asked(0), asked(2))
    asker.drop(lambda question, key: asker.lines[key].index == 1)
    (question,) = asker.questions
    assert (question.id, question.sentence, question.cells) == (other.questions[0].id, "2 lines", ("F2", "F4"))
    assert question.lines == (0, 2) and asker.unanswered == 1
    asker.drop(lambda question, key: True)
    assert asker.questions == [] and asker.unanswered == 0


def ask_units(asker: Asker) -> str | None:
    """A question about two columns at once."""
    return asker.ask(
        "unit_unknown", BLOCKS_ISSUE, "Which?", about=("C", "D"), choices=("in", "mm"), cells=("C3", "C4", "D3"),
        open_answer="units by column such as C=in, D=mm",
    )  # fmt: skip


def test_a_question_about_several_columns_takes_a_rule_for_each() -> None:
    c, d = (Rule("unit_unknown", "mm", column=column) for column in "CD")
    inches = Rule("unit_unknown", "in", column="D")
    assert ask_units(Asker(given=[c, d])) == "mm"
    assert ask_units(Asker(given=[c, inches])) == "C=mm, D=in"
    lone = Asker(given=[c])
    assert ask_units(lone) is None
    assert lone.refused == [(c.id, "this question is about the columns C, D: give a rule for each")]
    assert ask_units(Asker(given=[Rule("unit_unknown", "in")])) == "in"


@pytest.mark.parametrize(
    ("answer", "width"),
    [("inches", "36 in"), ("Millimetres", "36 mm"), ("D=inches, E=in", "36 in"), ("feet", "36 ft")],
)
def test_units_in_words_are_units_as_answers_too(answer: str, width: str) -> None:
    text = b"Mark,Kind,Qty,Width,Height\nW1,Window,4,36,60\n"
    asked = next(question for question in read_file(text).questions if question.code == "unit_unknown")
    assert read_file(text, Options(answers={asked.id: answer})).lines[0]["width"] == width


def test_a_refusal_names_the_open_answer_of_the_question() -> None:
    text = b"Mark,Kind,Qty,Size,Level\nW1,Window,4,36 in x 60 in,2-5\n"
    asked = next(question for question in read_file(text).questions if question.code == "typical_storeys")
    refused = read_file(text, Options(answers={asked.id: "two"})).refused_answers
    assert [asked.open_answer in why for _, why in refused] == [True]
