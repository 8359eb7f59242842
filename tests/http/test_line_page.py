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
