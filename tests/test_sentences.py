"""What the product says, listed from the code: the list is whole enough to be read, and holds no phrase found bad."""

from __future__ import annotations

import pytest

from tests.sentences import sentences

BAD = (
    "request rejected", "current state of", "minimum minutes per", "per mobilisation", "maximum items", "in all?",
    "without an answer:", "lead hand", "the state of things", "says nothing of per ", "no priced work",
)  # fmt: skip


def test_the_list_has_sentences_of_every_kind() -> None:
    """A fault, an f-string with a place held open, words of a field, a page."""
    found = {text for _, _, text in sentences()}
    assert len(found) > 2000
    assert {"this may not be blank", "{…} is needed: {…}", "how money is rounded", "Skip to the content"} <= found


@pytest.mark.parametrize("phrase", BAD)
def test_no_sentence_says(phrase: str) -> None:
    assert [said for said in sentences() if phrase in said[2].lower()] == []
