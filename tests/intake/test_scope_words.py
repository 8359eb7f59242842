"""Words of scope, shape and count in cells: what must be heard, what must not, and that no word is lost."""

import re
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.intake.phrases import Meaning, build, tokens_of
from estimating.intake.scope_columns import read_status, read_tick, tick_means
from estimating.intake.scope_words import SEPARATORS, read_remark, read_words, vocabulary
from tests.intake.harmless_texts import HARMLESS
from tests.intake.scope_texts import rows

MIXED = st.lists(
    st.sampled_from([text for text, _ in rows()] + HARMLESS.split("\n") + ["qzx", "Larchmere", "47", "?"]), max_size=4
)


@pytest.mark.parametrize(("text", "topics"), rows())
def test_what_a_price_must_wait_for_is_heard(text: str, topics: tuple[str, ...]) -> None:
    asked = read_words(text).asked
    assert {finding.topic for finding in asked} >= {topic.rstrip("?") for topic in topics}, asked
    for topic in topics:
        if topic.endswith("?"):
            assert any(finding.doubtful for finding in asked if finding.topic == topic[:-1]), asked


@pytest.mark.parametrize("text", HARMLESS.strip().splitlines())
def test_a_harmless_text_raises_nothing(text: str) -> None:
    assert read_words(text).asked == ()


@pytest.mark.parametrize(
    ("remark", "topic"),
    [("mech.", "by_others"), ("tenant", "by_others"), ("AG", "by_others"),
     ("h.l.", "not_in_contract"), ("BP-4", "not_in_contract"),
     ("as is", "existing"),
     ("sealed", "existing"), ("closed", "existing_removed"), ("indoor", "interior"),
      ("2. BA", "future"), ("see rev.", "deleted")],
)  # fmt: skip
def test_words_that_are_the_whole_of_a_remark_are_heard_with_a_doubt(remark: str, topic: str) -> None:
    assert [(finding.topic, finding.doubtful) for finding in read_remark(remark).asked] == [(topic, True)]
    assert not read_remark(f"{remark} room qzx").asked
    assert read_remark("NIC").asked == read_words("NIC").asked


def test_there_are_enough_texts() -> None:
    assert len(rows()) >= 300 and len(HARMLESS.strip().splitlines()) >= 100


@pytest.mark.parametrize(
    "text", [text for text, topics in rows() if not any("?" in topic for topic in topics) and topics]
)
def test_case_dots_and_dashes_make_no_difference(text: str) -> None:
    heard = {finding.topic for finding in read_words(text).asked}
    for other in (
        text.lower(),
        f"  {text}\u00a0",
        text.replace(" ", "\u00a0"),
        text.replace("-", "\u2013"),
        text.replace(" ", "\n"),
    ):
        assert {finding.topic for finding in read_words(other).asked} >= heard, other
    assert {finding.topic for finding in read_words(unicodedata.normalize("NFD", text)).asked} == heard


@pytest.mark.parametrize(
    ("text", "residue"),
    [
        ("NIC, ask Larchmere", "ask Larchmere"),
        ("qzx", "qzx"),
        ("fixed, blorp glass", "blorp"),
        ("24x18 duct", "24x18"),
        ("W12", "W12"),
        ('36" x 80" arched, clad', '36" x 80"'),
        ("", ""),
    ],
)
def test_words_not_understood_are_residue(text: str, residue: str) -> None:
    assert read_words(text).residue == residue


@given(MIXED, st.sampled_from([" ", ", ", "; ", " - ", "\n"]))
def test_nothing_vanishes(parts: list[str], between: str) -> None:
    text = unicodedata.normalize("NFC", between.join(parts))
    heard = read_words(text)
    kept = "".join(finding.words for finding in heard.findings) + heard.residue
    assert marks(kept) == marks(text)


@given(st.text(max_size=40))
def test_any_text_is_read_and_nothing_vanishes(text: str) -> None:
    heard = read_words(text)
    kept = "".join(finding.words for finding in heard.findings) + heard.residue
    assert marks(kept) == marks(unicodedata.normalize("NFC", text))


@pytest.mark.parametrize(
    ("text", "name"),
    [("ALT #1", "1"), ("alternate B", "B"), ("REV 3", "3"), ("TYP x 4", "4"), ("sim to W3", "W3"), ("2 pr", "2")],
)
def test_the_number_or_name_is_told(text: str, name: str) -> None:
    assert [finding.name for finding in read_words(text).findings] == [name]


@pytest.mark.parametrize(
    ("text", "group", "topic"),
    [
        ("ADD #2", "delta", "addendum"),
        ("REV 1", "delta", "revision"),
        ("\u0394 2", "delta", "revision"),
        ("added", "delta", "added"),
        ("ASI 4", "delta", "addendum"),
        ("Nachtrag 2", "delta", "addendum"),
        ("indice B", "delta", "revision"),
        ("Rectangle", "shape", "rectangle"),
        ("rechteckig", "shape", "rectangle"),
        ("self-adhered tape", "method", "method"),
        ("sill pan", "method", "sill"),
        ("from inside", "method", "from_inside"),
        ("Laibung", "method", "treated_depth"),
        ("CMU", "method", "substrate"),
        ("scaffold", "method", "access"),
    ],
)
def test_other_groups(text: str, group: str, topic: str) -> None:
    assert [(finding.group, finding.topic) for finding in read_words(text).findings] == [(group, topic)]


def test_a_phrase_with_two_meanings_is_refused() -> None:
    assert vocabulary().next
    with pytest.raises(ValueError, match="means"):
        build([(Meaning("a", "scope"), "by others"), (Meaning("b", "count"), "by other|others")])


def test_tokens_know_where_they_stand() -> None:
    text = "n.i.c., w/ gc (e) half-round 4.0"
    assert [text[token.start : token.end] for token in tokens_of(text)] == [
        "n.i.c.",
        ",",
        "w/",
        "gc",
        "(",
        "e",
        ")",
        "half",
        "round",
        "4.0",
    ]


@pytest.mark.parametrize(
    ("heading", "means"),
    [
        ("In scope", "in"),
        ("Priced", "in"),
        ("Included", "in"),
        ("In contract", "in"),
        ("Im Auftrag", "in"),
        ("Incluido", "in"),
        ("NIC", "out"),
        ("By others", "out"),
        ("Excluded", "out"),
        ("Not in scope", "out"),
        ("Bauseits", "out"),
        ("Hors lot", "out"),
        ("Existing", "out"),
        ("Scope", "in"),
        ("Quote?", "in"),
        ("SF", "words"),
        ("Total SF", "words"),
        ("Unit price", "words"),
        ("Status", "words"),
        ("New / Existing", "words"),
        ("Remarks", "words"),
    ],
)
def test_what_a_tick_means(heading: str, means: str) -> None:
    assert tick_means(heading) == means


@pytest.mark.parametrize(
    ("cell", "says"),
    [
        ("x", "yes"),
        ("\u2713", "yes"),
        ("Y", "yes"),
        ("ja", "yes"),
        ("", "blank"),
        ("-", "blank"),
        ("No", "no"),
        ("existing", ""),
    ],
)
def test_ticks(cell: str, says: str) -> None:
    assert read_tick(cell)[0] == says


def test_letters_of_a_status_column() -> None:
    assert [(finding.topic, finding.doubtful) for finding in read_status("E")] == [("existing", True)]
    assert [finding.topic for finding in read_status("NIC")] == ["not_in_contract"]


def marks(text: str) -> list[str]:
    """The characters of a text that may not be lost: all but spaces, and signs between words."""
    return sorted(char for char in re.sub(r"\s", "", text) if char not in SEPARATORS)
