"""A line that an answer has set aside asks nothing more that only its price would need."""

from __future__ import annotations

from estimating.intake.reading import Options, read_file

TEXT = (
    b"mark,qty,width,height,kind,notes\n"
    b"A,6,48 in,60 in,window,\n"
    b"D,4,12 in,12 in,window,louvre by mech. contractor\n"
    b"M,2,60 in,48 in,window,arch top - by owner\n"
)


def test_kind_and_shape_are_not_asked_of_what_is_out_of_the_work() -> None:
    """Both blocked costing after the line itself was set aside: an answer there priced nothing."""
    first = read_file(TEXT)
    codes = {question.code for question in first.questions}
    assert {"scope_words", "kind_beside", "shape_words"} <= codes
    scope = next(question for question in first.questions if question.code == "scope_words")
    aside = read_file(TEXT, Options(answers={scope.id: "set_aside"}))
    assert all("excluded" in line for line in aside.lines[1:])
    open_codes = {question.code for question in aside.questions if question.answer is None}
    assert not {"kind_beside", "shape_words"} & open_codes
    drawn = read_file(TEXT, Options(answers={scope.id: "as_drawn"}))
    assert {"kind_beside", "shape_words"} <= {question.code for question in drawn.questions}
