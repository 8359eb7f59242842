"""Sizes as people write them: each dimension with what it is of, counts, basis, and what is left over."""

import re
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.intake.size_words import SEPARATORS, read_size_text

SIZES = [
    ('4" DIA', 'diameter=4"'),
    ("\u00d84", "diameter=4"),
    ("DIA 300", "diameter=300"),
    ('4"\u00d8', 'diameter=4"'),
    ("\u2300 100 mm", "diameter=100 mm"),
    ("100 mm \u00d8", "diameter=100 mm"),
    ("Durchmesser 20 cm", "diameter=20 cm"),
    ('4" O.D.', 'outside_diameter=4"'),
    ("24x18", "first=24 second=18"),
    ('24" x 18', 'first=24" second=18'),
    ('24 x 18"', 'first=24+" second=18"'),
    ("3'-0\" x 6'-8\"", "first=3'-0\" second=6'-8\""),
    ("3'-0\" by 6'-8\"", "first=3'-0\" second=6'-8\""),
    ("3'-0\"W x 6'-8\"H", "width=3'-0\" height=6'-8\""),
    ("6'-8\"H X 3'-0\"W", "height=6'-8\" width=3'-0\""),
    ("4/0 x 6/8", "first=4/0 second=6/8"),
    ("4-0 x 6-8", "first=4-0 second=6-8"),
    ("4'0 x 6'8", "first=4'0 second=6'8"),
    ("3068", "four_digits=3068"),
    ("(2) 3068", "brackets:2 four_digits=3068"),
    ("PR 3-0 x 6-8", "pairs:1 first=3-0 second=6-8"),
    ("2 pr 3'-0\" x 7'-0\"", "pairs:2 first=3'-0\" second=7'-0\""),
    ("2'-6\" x 4'-0\" (x2)", "first=2'-6\" second=4'-0\" times:2"),
    ("2 x 3'-0\" x 6'-8\"", "times:2 first=3'-0\" second=6'-8\""),
    ("3 ea 24x24", "each:3 first=24 second=24"),
    ("72 x 48 R.O.", "first=72 second=48 rough"),
    ("R.O. 36 3/4 x 80 1/2", "rough first=36~3/4 second=80~1/2"),
    ("M.O. 40 x 86", "masonry first=40 second=86"),
    ("36 x 80 nominal", "first=36 second=80 nominal"),
    ("Rohbauma\u00df 1,20 x 1,35 m", "rough first=1,20+m second=1,35~m"),
    ("hueco de obra 120 x 135 cm", "rough first=120+cm second=135~cm"),
    ("NPS 4", "nominal_pipe=NPS~4"),
    ("DN 100", "nominal_pipe=DN~100"),
    ("DN100", "nominal_pipe=DN100"),
    ('4" SCH 40', 'nominal_pipe=4"~SCH~40'),
    ('36" x 80" x 1 3/4"', 'first=36" second=80" third=1~3/4"'),
    ("1200 x 900 mm", "first=1200+mm second=900~mm"),
    ("1 200 x 900 mm", "first=1~200+mm second=900~mm"),
    ("1.2m x 0.9m", "first=1.2m second=0.9m"),
    ("1,20 x 0,90", "first=1,20 second=0,90"),
    ("48 W X 48 H", "width=48 height=48"),
    ("W 48 x H 48", "width=48 height=48"),
    ("H 2,10 x B 1,20", "height=2,10 width=1,20"),
    ("H=2,10 B=1,20", "height=2,10 width=1,20"),
    ("L 1,20 x H 2,15", "width=1,20 height=2,15"),
    ('48" wide x 60" high', 'width=48" height=60"'),
    ("springline 5'-0\"", "springline=5'-0\""),
    ("6'-0\" to spring", "springline=6'-0\""),
    ('springline 5\'-0", rise 12"', 'springline=5\'-0" rise=12"'),
    ('5\'-0" springline 12" rise', 'springline=5\'-0" rise=12"'),
    ('rise 12"', 'rise=12"'),
    ("Stichh\u00f6he 30 cm", "rise=30~cm"),
    ("sill 3'-0\" AFF", "sill_height=3'-0\""),
    ("BRH 90 cm", "sill_height=90~cm"),
    ("all\u00e8ge 1,00 m", "sill_height=1,00~m"),
    ("HD HT 7'-0\"", "head_height=7'-0\""),
    ("head @ 7'-0\"", "head_height=7'-0\""),
    ("3\u2032-0\u2033 \u00d7 6\u2032-8\u2033", "first=3\u2032-0\u2033 second=6\u2032-8\u2033"),
    ("3'-0'' x 6'-8''", "first=3'-0'' second=6'-8''"),
    ("3\u2019\u20130\u201d x 6\u2019\u20138\u201d", "first=3\u2019\u20130\u201d second=6\u2019\u20138\u201d"),
    ("36\u00bd x 80\u00bc", "first=36\u00bd second=80\u00bc"),
    ("36\u00a0x\u00a080", "first=36 second=80"),
    ("3'-4 3/8\" x 7'-2 13/16\"", "first=3'-4~3/8\" second=7'-2~13/16\""),
    ("36", "bare=36"),
    ("6-8", "bare=6-8"),
    ("3'-0\"", "length=3'-0\""),
    ("135/210", "bare=135/210"),
    ('radius 18"', 'radius=18"'),
    ('return 5 1/2"', 'depth=5~1/2"'),
]
LEFT = [
    ('48"x48" half round', "half round"),
    ('24" x 18" duct', "duct"),
    ('4" pipe', "pipe"),
    ("36 x 80 LH", "LH"),
    ("tbd", "tbd"),
    ("6 panels", "6 panels"),
    ("see note 3", "see note 3"),
    ("W12", "W12"),
    ("5'-6\" sill to head", "sill to head"),
    ("3'-0\" x 6'-8\" M.O. in brick", "in brick"),
    ('36" round', "round"),
    ("24x18 typ", "typ"),
    ("24 x ?", "24 x ?"),
    ("24 x", "24 x"),
    ("1/A301", "1/A301"),
    ("2x", "2x"),
    ("", ""),
]


def told(text: str) -> list[str]:
    said = read_size_text(text)
    found = [f"{one.role}={one.text.replace(' ', '~')}{'+' + one.unit if one.unit else ''}" for one in said.dimensions]
    return sorted([*found, *(f"{one.how}:{one.count}" for one in said.counts), *said.basis])


@pytest.mark.parametrize(("text", "says"), SIZES)
def test_sizes(text: str, says: str) -> None:
    assert told(text) == sorted(says.replace(" mm", "~mm").replace(" cm", "~cm").split())
    assert read_size_text(text).residue == ""


@pytest.mark.parametrize(("text", "residue"), LEFT)
def test_what_is_no_size_is_left_over(text: str, residue: str) -> None:
    assert read_size_text(text).residue == residue


def test_one_dimension_by_its_role() -> None:
    said = read_size_text("36 x 80, sill 3'-0\"")
    assert (said.get("first"), said.get("sill_height"), said.get("rise")) == ("36", "3'-0\"", "")


PIECES = st.sampled_from(
    [text for text, _ in SIZES] + [text for text, _ in LEFT] + ["NIC", "x", "'", '"', "?", "12", "\u00bd", "(3)", "/"]
)


@given(st.lists(PIECES, max_size=4), st.sampled_from([" ", ", ", "", "\n"]))
def test_nothing_vanishes(parts: list[str], between: str) -> None:
    kept_whole(between.join(parts))


@given(st.text(alphabet="0123456789 '\"/-xXWHøØ.,mc½¼()roNPSdia\u2032\u00d7\u00a0", max_size=30))
def test_any_text_is_read_and_nothing_vanishes(text: str) -> None:
    kept_whole(text)


def kept_whole(text: str) -> None:
    said = read_size_text(text)
    assert marks("".join(said.consumed) + said.residue) == marks(unicodedata.normalize("NFC", text))
    assert all(one.text and one.text in unicodedata.normalize("NFC", text) for one in said.dimensions)


def marks(text: str) -> list[str]:
    """The characters that may not be lost: all but spaces, and signs that say nothing by themselves."""
    return sorted(char for char in re.sub(r"\s", "", text) if char not in SEPARATORS)
