"""Counts as people write them: values, multipliers, what they are per, and what is left over."""

import re
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.intake.count_sums import sure_count
from estimating.intake.count_words import SEPARATORS, read_count_text

PLAIN = [
    ("4", 4),
    ("4.0", 4),
    ("4,00", 4),
    ("(4)", 4),
    ("4 EA", 4),
    ("4 ea.", 4),
    ("4ea", 4),
    ("10 thus", 10),
    ("two", 2),
    ("Two", 2),
    ("deux", 2),
    ("zwei", 2),
    ("dos", 2),
    ("dozen", 12),
    ("3 Stk.", 3),
    ("3 St\u00fcck", 3),
    ("4 u", 4),
    ("4 uds.", 4),
    ("Qty: 5", 5),
    ("0", 0),
    ("4 windows", 4),
    ("12 pcs", 12),
    (" 7 ", 7),
    ("\u00a07", 7),
    ("1 no.", 1),
    ("5 req'd", 5),
    ("5 req", 5),
    ("Anzahl 3", 3),
    ("[3]", 3),
]
SPLIT = [
    ("x2", "times:2"),
    ("2x", "times:2"),
    ("x 2", "times:2"),
    ("2 pr", "pairs:2"),
    ("PR", "pairs:1"),
    ("1 pair", "pairs:1"),
    ("2 paires", "pairs:2"),
    ("2 Paar", "pairs:2"),
    ("2+3", "number:2 add:3"),
    ("2 + 3", "number:2 add:3"),
    ("2 + 1 opp", "number:2 part:1:opp"),
    ("3R/2L", "right:3 left:2"),
    ("2 L, 3 R", "left:2 right:3"),
    ("2 LH / 1 RH", "left:2 right:1"),
    ("2 links, 1 rechts", "left:2 right:1"),
    ("TYP x 4", "typical:4"),
    ("TYP. 4", "typical:4"),
    ("4 TYP", "typical:4"),
    ("TYP OF 8", "typical:8"),
    ("(TYP OF 8)", "typical:8"),
    ("TYP (4)", "typical:4"),
    ("4 per floor", "per:4:floor"),
    ("4/floor", "per:4:floor"),
    ("2/flr x 5", "per:2:floor times:5"),
    ("2 ea floor", "per:2:floor"),
    ("4 ea. flr", "per:4:floor"),
    ("3 je Geschoss", "per:3:floor"),
    ("3 par \u00e9tage", "per:3:floor"),
    ("3 por planta", "per:3:floor"),
    ("2 per unit", "per:2:unit"),
    ("1 ea. side", "per:1:side"),
    ("4/bldg", "per:4:building"),
    ("(4) FLOORS", "places:4:floor"),
    ("4 floors", "places:4:floor"),
    ("4 @ 3 floors", "number:4 places:3:floor"),
    ("4 buildings thus", "places:4:building"),
    ("TYPICAL OF 4 UNITS", "places:4:unit"),
    ("4 (2 future)", "number:4 part:2:future"),
    ("4 (2 existing)", "number:4 part:2:existing"),
    ("4 (1 NIC)", "number:4 part:1:nic"),
    ("12 of 16", "part_of:12 whole:16"),
    ("5 or 6", "either:5 either:6"),
    ("2-4", "low:2 high:4"),
    ("2 to 4", "low:2 high:4"),
    ("1 1/2", "fraction:"),
    ("1.5", "fraction:"),
    ("\u00bd", "fraction:"),
    ("1,200", "readings:"),
    ("1.200", "readings:"),
    ("2 x 4", "number:2 times:4"),
    ("16 (4 flrs x 4)", "number:16 places:4:floor times:4"),
    ("4 less 1", "number:4 less:1"),
]


@pytest.mark.parametrize(("text", "count"), PLAIN)
def test_plain_counts(text: str, count: int) -> None:
    said = read_count_text(text)
    assert (said.plain, said.residue, said.doubtful) == (count, "", False)


@pytest.mark.parametrize(("text", "says"), SPLIT)
def test_counts_that_a_person_must_settle(text: str, says: str) -> None:
    said = read_count_text(text)
    names = [
        f"{one.how}:{'' if one.count is None else one.count}:{one.per or one.word}".removesuffix(":")
        for one in said.parts
    ]
    assert names == says.split()
    assert said.plain is None and said.doubtful and said.residue == ""


@pytest.mark.parametrize(
    ("text", "state"),
    [("-", "nothing"), ("\u2014", "nothing"), ("none", "nothing"), ("N/A", "nothing"), ("keine", "nothing"),
     ("ninguno", "nothing"),
     ("", "unknown"), ("?", "unknown"), ("TBD", "unknown"), ("varies", "unknown"), ("\u00e0 d\u00e9finir", "unknown"),
     ("por definir", "unknown"), ("see plan", "unread"), ("W3", "unread")],
)  # fmt: skip
def test_cells_without_a_count(text: str, state: str) -> None:
    said = read_count_text(text)
    assert (said.state, said.parts, said.plain) == (state, (), None)


@pytest.mark.parametrize(
    ("text", "residue"),
    [
        ("4?", "?"),
        ("4*", "*"),
        ("4 see note", "see note"),
        ("1 lot", "lot"),
        ("see plan", "see plan"),
        ("4 NIC ask", "ask"),
        ("~4", "~"),
    ],
)
def test_what_is_no_count_is_left_over(text: str, residue: str) -> None:
    said = read_count_text(text)
    assert said.residue == residue and said.plain is None


def test_two_readings() -> None:
    assert read_count_text("1,200").readings == ("1200", "1.200")


def test_addends_and_multipliers() -> None:
    assert read_count_text("3R/2L").addends == (3, 2)
    assert read_count_text("2/flr x 5").addends == ()
    assert [(one.how, one.count, one.per) for one in read_count_text("2/flr x 5").multipliers] == [
        ("per", 2, "floor"),
        ("times", 5, ""),
    ]


PIECES = st.sampled_from(
    [text for text, _ in SPLIT] + [text for text, _ in PLAIN] + ["NIC", "x", "?", "+", "/", "and", "\u00bd", "W3"]
)


@given(st.lists(PIECES, max_size=4), st.sampled_from([" ", ", ", "", "\n"]))
def test_nothing_vanishes(parts: list[str], between: str) -> None:
    kept_whole(between.join(parts))


@given(st.text(max_size=30) | st.text(alphabet="0123456789 xX+-/(),.typerflo\u00bdLR", max_size=25))
def test_any_text_is_read_and_nothing_vanishes(text: str) -> None:
    kept_whole(text)


def kept_whole(text: str) -> None:
    said = read_count_text(text)
    assert marks("".join(said.consumed) + said.residue) == marks(unicodedata.normalize("NFC", text))


def marks(text: str) -> list[str]:
    """The characters that may not be lost: all but spaces, and signs that say nothing by themselves."""
    return sorted(char for char in re.sub(r"\s", "", text) if char not in SEPARATORS)


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("4 (2L, 2R)", 4),
        ("5 (3 LH/2 RH)", 5),
        ("4 total 2L 2R", 4),
        ("5 (2L, 2R)", None),
        ("3R/2L", 5),
        ("4 openings", 4),
    ],
)
def test_hands_behind_a_total_are_parts_of_it(text: str, count: int | None) -> None:
    assert sure_count(read_count_text(text)) == count
