"""What a person who knows an opening says of it, in the words of a question: a choice that is true, or its fields."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from estimating.intake.questions import Question
from tests.corpus.lines import length
from tests.corpus.truth import ALTERNATE, PRICED, SET_ASIDE, Opening

OCTAGON_CUT = Fraction(29289, 100_000)  # of the width, at each corner of a regular octagon: 1 / (2 + root 2)
NO_OPENING = ("no_opening", "not_an_opening", "exclude", "set_aside")
SIZES = {
    "rectangle": ("width", "height"), "ellipse": ("width", "height"), "round": ("diameter",), "pipe": ("diameter",),
    "half_round_top": ("width", "springline"), "segmental_top": ("width", "springline", "rise"),
}  # fmt: skip


def line_answers(question: Question, opening: Opening | None) -> Iterator[str]:
    """True answers about one line, the shortest first: its scope, a choice that holds for it, its fields.

    A line that is no opening (None) is left out.
    """
    if opening is None:
        yield from (choice for choice in NO_OPENING if choice in question.choices)
        return
    if opening.state == SET_ASIDE:
        yield from (choice for choice in ("set_aside", "exclude") if choice in question.choices)
        yield from ("set_aside: not in this contract",) * bool(question.open_answer)
    elif opening.state == ALTERNATE:
        yield from (f"alternate {opening.name}",) * bool(question.open_answer)
    for choice in question.choices:
        if holds(choice, opening):
            yield choice
    if opening.state == PRICED:
        priced = ("as_drawn", "as_read", "include", "number_set_aside")
        yield from (choice for choice in priced if choice in question.choices)


def line_fields(question: Question, opening: Opening | None) -> Iterator[str]:
    """True open answers about one line: its count or size alone, or all its fields; its scope where not priced."""
    if opening is None or opening.state != PRICED:
        yield from line_answers(question, opening)
    elif question.open_answer:
        yield from words_of(opening)
        yield fields_of(opening)


def holds(choice: str, opening: Opening) -> bool:
    """Whether a choice states the kind, shape, count or size of an opening."""
    if choice in (opening.kind, opening.shape[:1] and opening.shape[0], str(opening.quantity)):
        return opening.state == PRICED
    try:
        sizes = tuple(str(length(part)) for part in choice.replace("×", " x ").split(" x "))
    except ValueError:
        return False
    return sizes == opening.shape[1:]


def states_truth(choice: str, truth: Iterable[Opening], facts: Mapping[str, str]) -> bool:
    """Whether a choice states a fact, or what holds for every opening."""
    return choice in facts.values() or all(holds(choice, opening) for opening in truth)


def words_of(opening: Opening) -> Iterator[str]:
    """The count and the dimensions of an opening as open answers."""
    yield str(opening.quantity)
    texts = [written(size) for size in opening.shape[1:]]
    yield from (" x ".join(texts),) * (len(texts) == 2)
    yield from texts


def fields_of(opening: Opening) -> str:
    """An opening as fields: quantity=4, kind=window, shape=round, diameter=30 in."""
    said = [f"quantity={opening.quantity}", f"kind={opening.kind}"]
    name, *sizes = opening.shape or ("",)
    if name == "polygon":
        return ", ".join((*said, "shape=polygon", f"points={points_of(*sizes)}"))
    if name:
        said.append(f"shape={name}")
    return ", ".join((*said, *(f"{key}={written(size)}" for key, size in zip(SIZES.get(name, ()), sizes, strict=True))))


def points_of(corners: str, width: str, height: str) -> str:
    """A triangle on its base, a trapezoid of two thirds on one side, or a regular octagon, in a box."""
    w, h = Fraction(width), Fraction(height)
    c = w * OCTAGON_CUT
    shapes: dict[str, list[tuple[Fraction | int, Fraction | int]]] = {
        "3": [(0, 0), (w, 0), (w / 2, h)],
        "4": [(0, 0), (w, 0), (w, h * 2 / 3), (0, h)],
        "8": [(c, 0), (w - c, 0), (w, c), (w, h - c), (w - c, h), (c, h), (0, h - c), (0, c)],
    }
    return "; ".join(f"{written(str(x))}, {written(str(y))}" for x, y in shapes[corners])


def written(size: str) -> str:
    """A length in mm as a decimal number of mm."""
    return f"{float(Fraction(size)):.4f}".rstrip("0").rstrip(".") + " mm"
