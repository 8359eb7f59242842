"""Codes of fields as a person of the trade reads them. What is not here is its own name with spaces."""

from __future__ import annotations

import re
from typing import Any

from estimating.core.shapes import ALL_SIDES
from estimating.outputs.assumptions.words import SUBSTRATES

WORDS = {
    "step_ladder": "step ladder",
    "blocks_costing": "before costing",
    "blocks_issue": "before a quote is issued",
    "to_know": "to know",
    **SUBSTRATES,
    "rate_keeper": "rate keeper",
    "round_up_to": "rounding",
    "none": "none",
    "by_line": "as each line says",
    "gal": "gal",
    "ft2": "ft²",
    "m2": "m²",
    "in2": "in²",
    "cost-codes": "cost codes",
    "note": "remark",
    "with_other_causes": "together with other causes",
    "feet_inches": "feet and inches",
    "overheads_and_profit": "overheads and profit",
    # answers that are chosen by a code
    "set_aside": "set aside, not priced",
    "as_drawn": "priced as drawn",
    "as_read": "as it was read",
    "confirm": "yes",
    "segmental_height_overall": "segmental top, the height is the overall height",
    "segmental_height_to_springline": "segmental top, the height is to the springline",
    "half_round_height_overall": "half-round top, the height is the overall height",
    "half_round_height_to_springline": "half-round top, the height is to the springline",
    "leave_out": "leave them out",
    "count_too": "count them too",
    "count_again": "they count again",
    "keep_all": "keep all of them",
    "keep_first": "keep the first",
    "keep_last": "keep the last",
    "keep_edit": "keep the edit",
    "take_file": "take what the file says",
    "all_sides": "all four sides",
    "jambs_and_head": "jambs and head",
    "lines_are_right": "the lines are right, not the total",
    "none_missing": "none is missing",
    "length_is_width": "the length is the width",
    "leave_unknown": "leave it unknown",
    "multiply": "the counts are for each: multiply them",
    "multiplied": "the count is for each: multiply it",
    "in_all": "the count is of all together",
    "once": "it counts once",
    "no_line": "they change no line",
    "as_listed": "they are totals already: take them as listed",
    "no_openings": "these are no openings",
}
CODE = re.compile(r"[a-z]+(?:_[a-z]+)+")
# not in quotes: what a file says stands as it is written there
CODE_ALONE = re.compile(r"(?<![\w.'\"“!=])[a-z]+(?:_[a-z]+)+(?![\w.'\"”=!])")
POINTER = re.compile(r"/openings/([0-9]+)")
IN_BRACKETS = re.compile(r"\(([^()!]+!(?:[A-Z]{1,3}|row |column )[A-Z0-9]+)\)")
PLACE = re.compile(r"^(.*)!((?:[A-Z]{1,3}|row |column )[A-Z0-9]+)$", re.DOTALL)


def in_words(text: str) -> str:
    """Codes in a text as words; what is no code stays as it is."""
    if text in WORDS:
        return WORDS[text]
    return CODE.sub(lambda code: WORDS.get(code[0], code[0].replace("_", " ")), text)


def codes_in_words(sentence: str) -> str:
    """A question's sentence with the codes of its answers and fields as words, and what it quotes as it was."""
    return CODE_ALONE.sub(lambda code: in_words(code[0]), sentence)


# Words of derivations as a person says them, the longer first
SAID = (
    ("net × gross for net", "net × waste factor"),
    ("Gross for net of", "Waste factor of"),
    ("gross for net", "waste factor"),
    ("as the request says", "as entered for this estimate, else none"),
    ("stock of the request", "stock on hand"),
    *((f"Σ {word} ", f"sum {word} ") for word in ("of", "over")),
    ("Σ", "sum of"),
)


def in_sentence(text: str) -> str:
    """What a step of a derivation says of itself, as a person reads it."""
    for written, said in SAID:
        text = text.replace(written, said)
    return in_words(text)


def value_words(value: Any) -> str:
    """A field of an opening line as the trade says it: all four sides, jambs and head, yes."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list | tuple):
        if set(map(str, value)) == ALL_SIDES:
            return WORDS["all_sides"]
        return " and ".join(value_words(one) for one in value)
    if isinstance(value, dict):
        return ", ".join(f"{in_words(str(name))} {value_words(one)}" for name, one in value.items())
    text = str(value)
    return in_words(text) if text in WORDS or CODE.fullmatch(text) else text


def places_in_brackets(sentence: str) -> str:
    """A sentence with the places in its brackets as people say them: W4 (A601, E10)."""
    return IN_BRACKETS.sub(lambda found: f"({place_words(found[1])})", sentence)


def place_words(place: Any) -> str:
    """A place of a file as people say it: North wing, row 2; line 3 of what a program wrote."""
    text = str(place)
    pointer = POINTER.match(text)
    if pointer:
        return f"line {int(pointer[1]) + 1}"
    return PLACE.sub(r"\1, \2", text)
