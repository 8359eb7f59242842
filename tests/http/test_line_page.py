"""The page of one line: whatever the line holds is shown, what the form has can be changed."""

from __future__ import annotations

from html import unescape

from tests.cast import Office
from tests.http.visitor import LINES, Job

POINTS = [["0 in", "0 in"], ["48 in", "0 in"], ["24 in", "36 in"]]
POLYGON = {"mark": "P1", "kind": "window", "quantity": 1, "shape": "polygon", "points": POINTS}


def test_a_polygon_is_shown_and_changed(office: Office) -> None:
    job = Job(office)
    person = job.person("estimator")
    line = f"/schedules/{job.add([*LINES, POLYGON])}/lines/{len(LINES)}"
    assert """points: (0", 0") (4'-0", 0") (2'-0", 3'-0")""" in unescape(person.see(line))
    made = person.send_again(line, person.fields() | {"note": ["gable"], "reason": ["seen"], "step": ["change"]})
    assert "gable" in person.see(made)


def test_cells_that_no_field_of_the_line_has_are_shown_as_the_file_has_them(office: Office) -> None:
    """A sill height that gives no height, and a type that nothing is read of, were one page away."""
    person = Job(office).person("estimator")
    person.see("/projects/new")
    text = "mark,qty,width,height,type,sill height\nA,6,48 in,60 in,FG-2,3'-0\"\n"
    schedule = person.send_again("/projects/new", person.fields() | {"name": ["Trial"], "text": [text]})
    page = unescape(person.see(f"{schedule}/lines/0"))
    assert """The row as the file has it: A <span class="t">A</span>""" in page
    assert """E <span class="t">FG-2</span> · F <span class="t">3'-0"</span>""" in page
