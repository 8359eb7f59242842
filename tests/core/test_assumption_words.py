"""What assumptions say: no code in a sentence, and what was entered for all openings needs no signature."""

from __future__ import annotations

import re

import pytest

from estimating.outputs.assumptions.item import DEFAULT, REQUEST
from estimating.outputs.quotes.prepared import read_assumed
from tests.core.random_estimates import random_case
from tests.core.random_estimates import sources as sources_of
from tests.core.test_assumptions import assumed_from
from tests.length import tries

CODES = re.compile(r"\b[a-z]+_[a-z_]+\b")


@pytest.mark.law
def test_no_sentence_holds_a_code() -> None:
    told = set()
    for seed in range(tries(15, 60)):
        document, editions = random_case(seed)
        for item in assumed_from(document, sources_of(editions))[1]:
            assert not CODES.search(item.sentence.split('"')[-1]), item.sentence
            told.add(item.field)
    assert len(told) > 25


def test_a_draft_kept_before_needs_no_signature_for_what_was_entered() -> None:
    kept = {"key": "a", "field": "method", "value": "fluid", "source": DEFAULT, "openings": 2}
    told = "2 openings (A) give no method of their own; the request's is taken: fluid."
    entered = read_assumed(kept | {"sentence": told})
    assert (entered.source, entered.needs_sign_off) == (REQUEST, False)
    assert read_assumed(kept | {"field": "access", "sentence": "2 openings (A) give no access: ground."}).needs_sign_off
