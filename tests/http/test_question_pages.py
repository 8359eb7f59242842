"""Questions as newcomers meet them: what each choice gives, what an answer changes, what it leaves out."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from tests.cast import Office
from tests.http.corpus_files import answer, question_that_says, taken_in
from tests.http.visitor import Job, Visitor
from tests.worked_cases import read_case

BUILDINGS, SHEETS = "432-buildings-and-multipliers", "173-three-sheets-three-heads"


@pytest.fixture
def person(office: Office) -> Visitor:
    return Job(office).person("estimator")


def facts(page: str) -> dict[str, str]:
    """What the figures at the head of a page say."""
    return dict(re.findall(r"<dt>(.*?)</dt><dd>(.*?)</dd>", page.partition("</dl>")[0]))


def rows(page: str, label: str) -> list[str]:
    """The rows of a table as text."""
    body = page.partition(f'aria-label="{label}"')[2].partition("<tbody>")[2].partition("</tbody>")[0]
    return [" ".join(re.sub("<[^>]*>", " ", row).split()) for row in body.split("</tr>")[:-1]]


def test_a_row_of_multipliers_is_one_question_with_its_own_cells_and_the_openings_of_each_choice(
    person: Visitor,
) -> None:
    """A 3 x (12 + 6 + 4 + 2) = 72, B 2 x (8 + 4 + 2) = 28, C 6 + 2 + 1 + 1 = 10: 110, against 24 + 14 + 10 = 48."""
    schedule = taken_in(person, BUILDINGS)
    assert person.see(f"{schedule}/questions").count("when multiplied") == 1
    page = person.see(question_that_says(person, schedule, "when multiplied"))
    heading = page.partition('<h1 class="asked">')[2].partition("</h1>")[0]
    assert heading == (
        "Row 3 of sheet 'Site count', 'No. of bldgs': Type A 3, Type B 2, Type C 1. Are the counts for one of each "
        "(110 openings when multiplied), or already the totals (48 openings)?"
    )
    assert "Site count, E3; Site count, F3." in page and "count, E2" not in page
    assert "multiply them (110 openings to price)" in page and "take them as listed (48 openings to price)" in page
    cells = person.see(f"{schedule}/file").partition('id="row-3"')[2].partition("</tr>")[0]
    assert "× 3</a>" in cells and "× 2</a>" in cells


def test_openings_are_read_so_far_while_a_question_may_change_them(person: Visitor) -> None:
    schedule = taken_in(person, BUILDINGS)
    page = person.see(schedule)
    assert facts(page) == {"Read so far": "48 openings"} and "1 question</a> may change this number" in page
    schedule = answer(person, question_that_says(person, schedule, "when multiplied"), "multiply")
    page = person.see(schedule)
    assert facts(page) == {"Openings in the file": "110", "To price": "110"} and "may change" not in page


def test_lines_that_an_answer_leaves_out_stay_told(person: Visitor) -> None:
    """The file holds 6 + 4 + 8 + 2 = 20 openings and on its summary sheet 14 + 4 + 2 = 20 more."""
    schedule = taken_in(person, SHEETS)
    assert facts(person.see(schedule)) == {"Read so far": "40 openings"}
    schedule = answer(person, question_that_says(person, schedule, "Summary"), "leave_out")
    assert person.see(f"{schedule}/questions?settled=2&lines=5&asked=1").count("3 questions are left") == 1
    told = {"Openings in the file": "40", "Left out: sheet 'Summary'": "20", "Read so far": "20 openings"}
    assert facts(person.see(schedule)) == told
    schedule = answer(person, question_that_says(person, schedule, "stands 2 times"), "keep_all")
    told = {"Openings in the file": "40", "Left out: sheet 'Summary'": "20", "To price": "20"}
    assert facts(person.see(schedule)) == told


def test_marks_that_stand_twice_are_shown_with_all_their_lines_and_counts(person: Visitor) -> None:
    schedule = taken_in(person, SHEETS)
    schedule = answer(person, question_that_says(person, schedule, "Summary"), "leave_out")
    question = question_that_says(person, schedule, "W1 stands 2 times with 6 and 8 (14 together)")
    page = person.see(question)
    lines = rows(page, "Lines that the question is about")
    assert [line[:20] for line in lines] == ["North wing, row 2 W1", "South wing, row 2 W1"]
    for choice in ("keep all of them (20", "keep the first (12", "keep the last (14"):
        assert f"{choice} openings to price)" in page
    page = person.send_again(question, person.fields() | {"answer": ["keep_all"], "step": ["see"]}, 200)
    assert "No line changes: 20 openings to price before and after it." in page
    assert "Smallest" not in page and "can't be read" not in page


def test_an_answer_that_settles_what_was_assumed_stands_under_what_changed(person: Visitor) -> None:
    """All sides of a door are treated unless something else is said: the answer moves no opening, and is told."""
    schedule = answer(person, question_that_says(person, taken_in(person, BUILDINGS), "No sides"), "all_sides")
    page = person.see(f"{schedule}/changes")
    assert "3 lines changed, 8 lines did not" in page
    said = "Site count, row 7 Sides now given: all four sides, as was assumed before."
    assert rows(page, "Lines that changed") == [f"D1 Type {letter} {said}" for letter in "ABC"]


def test_lines_of_one_mark_are_told_apart_by_what_differs(person: Visitor) -> None:
    question = question_that_says(person, taken_in(person, BUILDINGS), "when multiplied")
    lines = rows(person.see(f"{answer(person, question, 'multiply')}/changes"), "Lines that changed")
    assert lines[0].startswith("W1 Type A Site count, row 4") and lines[1].startswith("W1 Type B Site count, row 4")


def test_an_answer_is_changed_at_its_question(person: Visitor) -> None:
    question = question_that_says(person, taken_in(person, BUILDINGS), "when multiplied")
    schedule = answer(person, question, "multiply")
    page = person.see(f"{schedule}/questions")
    assert "Take back" not in page and "Change this answer" in page
    again = re.findall(rf'href="({schedule}/questions/[^"]+)">Change this answer', page)[0]
    assert 'value="multiply" checked' in person.see(again) and "Take back this answer" in person.see(again)
    assert facts(person.see(answer(person, again, "as_listed")))["To price"] == "48"


def test_a_file_is_one_row_of_its_project_whatever_was_answered_since(person: Visitor) -> None:
    first = taken_in(person, BUILDINGS)
    schedule = answer(person, question_that_says(person, first, "when multiplied"), "multiply")
    schedule = answer(person, question_that_says(person, schedule, "No sides"), "all_sides")
    project = re.findall(r'href="(/projects/[^"/]+)"', person.see(schedule).partition("<main")[2])[0]
    listed = rows(person.see(project), "Opening schedules")
    assert len(listed) == 1 and "revision 3 2 answers and edits since" in listed[0]
    received = re.findall(r"received (.*?M [A-Z]{2,4})", person.see(schedule))
    assert received == re.findall(r"received (.*?M [A-Z]{2,4})", person.see(first)) != []


def test_what_was_taken_from_another_line_is_not_said_to_be_written(person: Visitor) -> None:
    page = person.see(taken_in(person, SHEETS))
    assert "taken from W1 above" in page and "written: as" not in page
    assert "Summary, row 2" in page and "Summary!row" not in page


def test_ways_to_reach_the_work_say_what_the_rates_say_of_them(person: Visitor) -> None:
    """The edition of the worked cases: its factor of each access less one, in percent."""
    schedule = taken_in(person, BUILDINGS)
    page = person.see(question_that_says(person, schedule, "No access"))
    table = read_case("golden", "edition.json")["tables"]["production"]["access"]
    assert table["lift"] != table["ground"]
    for name, factor in table.items():
        percent = (Decimal(factor) - 1) * 100
        said = f"{percent.normalize():f} % more time" if percent else "no more time"
        assert f"{name.replace('_', ' ')}: {said}" in page, name


def test_the_box_for_another_answer_stands_under_its_choice_alone(person: Visitor) -> None:
    schedule = taken_in(person, BUILDINGS)
    question = question_that_says(person, schedule, "when multiplied")
    page = person.see(question)
    other = page.partition('<div class="choice other">')[2].partition("</fieldset>")[0]
    assert "another answer: a whole number</label>" in other and 'name="words"' in other
    assert page.count("a whole number") == 1
    typed = {"answer": ["typed"], "words": [""], "step": ["answer"]}
    assert "choose an answer, or write one" in person.send_again(question, person.fields() | typed, 422)
    typed = {"answer": ["typed"], "words": ["5"], "step": ["see"]}
    page = person.send_again(question, person.fields() | typed, 200)
    assert "It changes 7 lines: 38 openings become 35." in page, "12, 8, 6, 4, 4, 2 and 2 become seven times 5"


def test_set_aside_is_taken_in_words(person: Visitor) -> None:
    """The 38 openings of types A and B are set aside with the reason typed; the 10 of type C stay."""
    schedule = taken_in(person, BUILDINGS)
    question = question_that_says(person, schedule, "when multiplied")
    person.see(question)
    typed = {"answer": ["typed"], "words": ["Set aside: by the owner"], "step": ["answer"]}
    told = person.send_again(question, person.fields() | typed)
    found = facts(person.see(told.partition("/questions")[0]))
    assert found["Set aside: by the owner"] == "38" and found["To price"] == "10"


SIDES = "jambs_and_head"


def chosen(page: str, name: str) -> list[str]:
    """The values chosen of the buttons of one name."""
    buttons = re.findall(r'<input type="radio"[^>]*>', page)
    mine = [button for button in buttons if f' name="{name}"' in button and " checked" in button]
    return [re.findall(r'value="([^"]*)"', button)[0] for button in mine]


def sides_of(person: Visitor, schedule: str) -> list[bool]:
    """Of each line of D1 whether an answer says its sides."""
    address = f"/v1/opening-schedules/{schedule.rpartition('/')[2]}"
    lines = person.client.get(f"{address}/reading?limit=500").json()["items"]
    return ["sides" in line["fields"] for line in lines if line["mark"] == "D1"]


def test_a_line_that_is_chosen_is_answered_alone_and_the_page_says_what_was_stored(person: Visitor) -> None:
    """The reach is left at all, the second of three doors is chosen: the others stay open."""
    schedule = taken_in(person, BUILDINGS)
    question = question_that_says(person, schedule, "No sides")
    page = person.see(question)
    assert "Answer all 3 lines" in page and "Answer this line" in page
    lines = re.findall(r'name="line" form="answer" value="(\d+)"', page)
    typed = person.fields() | {"answer": [SIDES], "line": [lines[1]], "step": ["see"]}
    assert typed["reach"] == ["whole"] and len(lines) == 3
    page = person.send_again(question, typed, 200)
    assert chosen(page, "line") == [lines[1]] and chosen(page, "reach") == ["one"] and chosen(page, "answer") == [SIDES]
    assert "data-answers" in page, "a look is an answer: what was sent did arrive"
    told = person.send_again(question, person.fields() | {"step": ["store"]})
    page = re.sub("<[^>]*>", "", person.see(told))
    assert "Stored for D1; 2 lines of this question are still open." in page and "settled by it" not in page
    assert sides_of(person, told.partition("/questions")[0]) == [False, True, False]


def test_what_was_chosen_stays_where_an_answer_is_refused(person: Visitor) -> None:
    question = question_that_says(person, taken_in(person, BUILDINGS), "No sides")
    line = re.findall(r'name="line" form="answer" value="(\d+)"', person.see(question))[2]
    typed = person.fields() | {"answer": [SIDES], "line": [line], "reach": ["rule"], "storey": ["L2"]}
    page = person.send_again(question, typed | {"step": ["answer"]}, 422)
    assert "a rule reaches more" in page and 'value="L2"' in page
    assert [chosen(page, name) for name in ("answer", "line", "reach")] == [[SIDES], [line], ["rule"]]
    page = person.send_again(question, person.fields() | {"reach": ["whole"], "answer": ["typed"]}, 422)
    assert chosen(page, "line") == [line] and chosen(page, "reach") == ["one"]


def test_a_rule_is_looked_at_first_and_its_button_and_choice_say_so(person: Visitor) -> None:
    question = question_that_says(person, taken_in(person, BUILDINGS), "No sides")
    page = person.see(question)
    assert "See what the rule does" in page and "you see first what it does" in page and "<details" not in page
    page = person.send_again(
        question, person.fields() | {"answer": [SIDES], "reach": ["rule"], "step": ["answer"]}, 200
    )
    assert "Store this rule" in page and "Nothing is stored yet" in page
    seen = re.findall(r'name="seen" value="(\[.*?\])">', page)
    other = person.fields() | {"seen": seen, "mark_prefix": ["D"], "step": ["store"]}
    assert "Nothing is stored yet" in person.send_again(question, other, 200), "other conditions are looked at anew"
    page = person.send_again(question, person.fields() | {"mark_prefix": [""], "seen": [""], "step": ["store"]}, 200)
    seen = re.findall(r'name="seen" value="(\[.*?\])">', page)
    told = person.send_again(question, person.fields() | {"seen": seen, "step": ["store"]})
    assert "1 question is answered" in person.see(told)


def test_an_answer_to_all_leaves_none_out(person: Visitor) -> None:
    schedule = answer(person, question_that_says(person, taken_in(person, BUILDINGS), "No sides"), SIDES)
    assert sides_of(person, schedule) == [True, True, True]
