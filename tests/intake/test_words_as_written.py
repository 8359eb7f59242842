"""Words of a line as questions quote them, and as an answer keeps them."""

from __future__ import annotations

from estimating.intake.reading import Options, read_file


def test_a_line_is_set_aside_for_all_of_its_words() -> None:
    """The first alone told a customer another reason than the schedule's."""
    data = b"Mark,Type,Qty,Size,Notes\n108,O.H. door,1,12 ft x 14 ft,By others\nW1,Window,2,3 ft x 4 ft,\n"
    (asked,) = [question for question in read_file(data).questions if question.code == "scope_words"]
    line = read_file(data, Options(answers={asked.id: "set_aside"})).lines[0]
    assert line["excluded"] == {"reason": "O.H. door; By others"}


def test_words_with_feet_and_inches_are_quoted_as_written() -> None:
    words = "sidelites 1'-2\" ea. side, not in width"
    data = f"Mark;Type;Qty;Width;Height;Notes\n103;Entry door;2;3 ft;7 ft;{words}\n".encode()
    sentences = [question.sentence for question in read_file(data).questions]
    assert any(f"“{words}”" in sentence for sentence in sentences)
    assert not any("\\" in sentence for sentence in sentences)


def test_the_answer_that_a_question_of_shapes_names_is_taken() -> None:
    data = b'Mark,Type,Qty,Width,Height\nW5,"Fixed, arched top",1,5 ft 4 in,6 ft\n'
    (asked,) = [question for question in read_file(data).questions if question.code == "shape_words"]
    answer = "shape=segmental_top, rise=8 in"
    assert answer in asked.open_answer
    line = read_file(data, Options(answers={asked.id: answer})).lines[0]
    assert (line["shape"], line["rise"]) == ("segmental_top", "8 in")
