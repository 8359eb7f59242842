"""Lines whose sizes, sides or sill make no opening of their shape, each refused at its field."""

from __future__ import annotations

from typing import Any

import pytest

from tests.core.invented import line_faults


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        (
            {"shape": "segmental_top", "width": "60", "springline": "48", "rise": "30.01"},
            ("/rise", "rise_over_half_width"),
        ),
        ({"shape": "polygon", "points": [[0, 0], [4, 0], [1, 1], [0, 4]]}, ("/points", "bad_outline")),
        ({"shape": "polygon", "points": [[0, 0], [4, 4], [4, 0], [0, 4]]}, ("/points", "bad_outline")),
        ({"shape": "polygon", "points": [[0, 0], [2, 0], [4, 0], [4, 4]]}, ("/points", "bad_outline")),
        ({"shape": "polygon", "points": [[0, 0], [0, 0], [4, 0], [4, 4]]}, ("/points", "bad_outline")),
        (
            # a five-pointed star turns the same way at each point, and twice around
            {"shape": "polygon", "points": [[0, 30], [18, -24], [-29, 9], [29, 9], [-18, -24]]},
            ("/points", "bad_outline"),
        ),
        ({"shape": "outline", "points": [[0, 0], [4, 0], [4, 4], [1, 5]]}, ("/points", "bad_outline")),
        ({"shape": "outline", "points": [[0, 0], [2, 0], [4, 0], [4, 4], [0, 4]]}, ("/points", "bad_outline")),
        (
            {"shape": "outline", "points": [[0, 0], [40, 0], [40, 40], [20, 40], [20, -10], [0, -10]]},
            ("/points", "bad_outline"),
        ),
        (
            # a corner that stands on the opposite side
            {"shape": "outline", "points": [[0, 0], [60, 0], [60, 40], [40, 40], [40, 0], [20, 0], [20, 40], [0, 40]]},
            ("/points", "bad_outline"),
        ),
        ({"shape": "polygon", "points": [[0, 0], [4, 0]]}, ("/points", "wrong_count")),
        ({"shape": "half_round_top", "width": "36", "springline": "48", "height": "66"}, ("/springline", "one_of")),
        ({"shape": "half_round_top", "width": "36"}, ("/springline", "one_of")),
        ({"shape": "half_round_top", "width": "36", "height": "17"}, ("/height", "too_small")),
        ({"shape": "round", "diameter": "0"}, ("/diameter", "too_small")),
        ({"shape": "round", "width": "36", "diameter": "36"}, ("/width", "not_for_shape")),
        ({"shape": "round", "diameter": "36", "sides": ["sill"]}, ("/sides", "not_for_shape")),
        ({"shape": "ellipse", "width": "36"}, ("/height", "missing")),
        ({"kind": "pipe", "diameter": "4", "sill": {"kind": "flat"}}, ("/sill", "not_for_shape")),
        ({"width": "48", "height": "60", "sill": {"kind": "none"}, "sides": ["sill"]}, ("/sides", "contradiction")),
        (
            {"width": "48", "height": "60", "sill": {"kind": "pan"}, "sides": ["jambs", "head"]},
            ("/sill", "contradiction"),
        ),
        ({"width": "48", "height": "60", "sill": {"kind": "sloped"}}, ("/sill/angle_degrees", "angle")),
    ],
)
def test_refuses_what_is_no_such_shape(line: dict[str, Any], fault: tuple[str, str]) -> None:
    assert line_faults(**line) == [(f"/0{fault[0]}", fault[1])]


@pytest.mark.parametrize("rise", ["30", "29.999"])
def test_takes_a_rise_up_to_half_the_width(rise: str) -> None:
    assert line_faults(shape="segmental_top", width="60", springline="48", rise=rise) == []
