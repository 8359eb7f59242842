"""Two revisions line by line: by id, then mark and place, then size and place; clouds compared (invented content)."""

from __future__ import annotations

from typing import Any

from estimating.intake.revisions import Changes, compare_revisions, read_revision
from rates.core.length_styles import LengthStyle


def line(mark: str, quantity: int = 2, width: str = "36 in", **more: Any) -> dict[str, Any]:
    return {"mark": mark, "quantity": quantity, "width": width, "height": "48 in", "storey": "L1"} | more


def changes(before: list[dict[str, Any]], after: list[dict[str, Any]], clouds: tuple[str, ...] = ()) -> Changes:
    return compare_revisions(read_revision(before, ""), read_revision(after, ""), clouds)


BEFORE = [line("W1"), line("W2", 3), line("W3"), line("W4", id="four"), line("W5", storey="L2"), line("W6")]


def test_each_class_of_change_is_named() -> None:
    after = [
        line("W1"),
        line("W2", 5),
        line("W3", width="40 in"),
        line("W9", id="four"),
        line("W5", storey="L2", access="lift"),
        line("W7", 7, "60 in"),
    ]
    found = changes(BEFORE, after)
    assert {(c.mark, c.before, c.after): c.classes for c in found.lines} == {
        ("W2", 1, 1): ("quantity",),
        ("W3", 2, 2): ("size",),
        ("W9", 3, 3): ("renumbered",),
        ("W5", 4, 4): ("factors",),
        ("W7", None, 5): ("added",),
        ("W6", 5, None): ("removed",),
    }
    assert found.unchanged == 1
    assert [c.sentence for c in found.lines] == [
        "3 openings of W2 (L1) became 5.",
        "W3 (L1): size 3'-4\" x 4'-0\" instead of 3'-0\" x 4'-0\".",
        "W9 (L1): was W4.",
        "W5 (L2): access lift, not stated before.",
        "W7 (L1) was added: 7 openings, 5'-0\" x 4'-0\".",
        "W6 (L1) was removed: 2 openings, 3'-0\" x 4'-0\".",
    ]


def test_sizes_are_told_in_the_style_and_exactly_where_it_shows_them_alike() -> None:
    before, after = read_revision([line("W3")], ""), read_revision([line("W3", width="36.05 in")], "")

    def told(style: LengthStyle) -> str:
        return compare_revisions(before, after, show=style.show).lines[0].sentence

    assert told(LengthStyle()) == "W3 (L1): size 3'-0 1/16\" x 4'-0\" instead of 3'-0\" x 4'-0\"."
    assert told(LengthStyle("mm")) == "W3 (L1): size 915.7 mm x 1219.2 mm instead of 914.4 mm x 1219.2 mm."  # 915.67
    exact = "W3 (L1): size 915.67 mm x 1219.2 mm instead of 914.4 mm x 1219.2 mm."
    assert told(LengthStyle("feet_inches", 8)) == told(LengthStyle("inches", 8)) == exact


def test_a_match_by_size_and_place_is_a_proposal_and_one_by_id_is_not() -> None:
    by_place = changes([line("W1", 4)], [line("W11", 4)])
    assert [(c.classes, c.proposal) for c in by_place.lines] == [(("renumbered",), True)]
    by_id = changes([line("W1", 4, id="a")], [line("W11", 4, id="a")])
    assert [(c.classes, c.proposal) for c in by_id.lines] == [(("renumbered",), False)]


def test_changed_but_not_clouded_and_clouded_but_not_changed() -> None:
    after = [line("W1", 4), line("W2", 5), line("W3"), *BEFORE[3:]]
    found = changes(BEFORE, after, clouds=("w2", "W3"))
    assert found.not_clouded == ("W1",)
    assert found.clouded_unchanged == ("W3",)
    assert [(c.mark, c.clouded) for c in found.lines] == [("W1", False), ("W2", True)]


def test_without_clouds_nothing_is_said_of_them() -> None:
    found = changes(BEFORE, [line("W1", 4), *BEFORE[1:]])
    assert found.not_clouded == () and [c.clouded for c in found.lines] == [None]


def test_lines_that_cannot_be_read_yet_are_counted() -> None:
    unread = {"mark": "W8", "quantity": 1, "height": "48 in"}
    assert changes(BEFORE, [*BEFORE, unread]).unread == 1
