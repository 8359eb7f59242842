"""One difference in words: what it is called, what it is now, what it was."""

from __future__ import annotations

import re

from estimating.compared.values import Reader, label, two_texts, value_text
from estimating.core.differences import ORDER, Difference

# the unit of both is said once
NUMBER_AND_UNIT = re.compile(r"([0-9.,]+) (an hour|a year|minutes|hours|minutes per [a-z]+)", re.ASCII)


def phrase(difference: Difference, name: str, reader: Reader) -> str:
    """`name` is what people call the value; "treated depth 8 in instead of 6 in"."""
    before, after, attribute = difference.before, difference.after, difference.attribute
    if difference.path[-1] == ORDER:
        return f"{name} in the order {', '.join(after)} instead of {', '.join(before)}"
    if before is None:
        return f"{name} {value_text(attribute, after, reader)}, not stated before"
    if after is None:
        return f"{name} no longer stated, before {value_text(attribute, before, reader)}"
    was, now = two_texts(attribute, before, after, reader)
    numbers = NUMBER_AND_UNIT.fullmatch(was), NUMBER_AND_UNIT.fullmatch(now)
    if numbers[0] and numbers[1] and numbers[0][2] == numbers[1][2]:
        was = numbers[0][1]
    return f"{name} {now} instead of {was}"


def as_sentence(text: str) -> str:
    """A phrase as a sentence: its first letter a capital, a full stop."""
    return f"{text[:1].upper()}{text[1:]}."


def name_of(path: tuple[str, ...]) -> str:
    """What people call the value at a path: the name of its field, after those that it stands in."""
    steps = [step for step in path if step != ORDER]
    return " ".join(label(step, outer) for outer, step in zip(["", *steps], steps, strict=False))
