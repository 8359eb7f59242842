"""How each cause of doubt about lines is asked: what is wanted, how much it blocks, and how an answer is put in."""

from __future__ import annotations

from estimating.core.schedule_lines import LENGTH_NAMES
from estimating.intake.asking import BLOCKS_ISSUE
from estimating.intake.cells import read_cell_length, read_cell_size
from estimating.intake.columns import read_count
from estimating.intake.count_cells import ADDED
from estimating.intake.doubts import Cause, Doubt, put_any
from estimating.intake.draft import Draft
from estimating.intake.line_answers import SIZE_OR_DIAMETER, read_fields
from estimating.intake.multiplied_question import ask_multiplied
from estimating.intake.outside_words import AS_LISTED, MULTIPLY, put_multiplied
from estimating.intake.pipe_sizes import outside_diameter, says_pipe, without_round
from estimating.intake.row_shapes import put_checked, put_shape
from estimating.intake.sill_words import read_sill

NO_OPENING = "no_opening"
ROUGH_ASKED = frozenset({"leaves", "size_basis_of_line"})  # their answers are rough sizes
ON_EACH, ON_ALL = "on_each", "on_all"
EACH, TOGETHER = "each", "together"
COUNT_AGAIN = "count_again"


def put_no_opening(draft: Draft) -> str:
    """A row that is no opening at all: a sum, a heading, a remark."""
    draft.dropped = True
    return ""


def put_mark(draft: Draft, answer: str, doubt: Doubt) -> str:
    """A mark that was missing."""
    if answer == NO_OPENING:
        return put_no_opening(draft)
    if answer in doubt.options or "=" in answer or answer.startswith(("set_aside", "alternate")):
        return put_any(draft, answer, doubt)
    draft.values["mark"] = answer.strip()[:80]
    return "" if answer.strip() else "a mark is expected"


def put_count(draft: Draft, answer: str, doubt: Doubt) -> str:
    """A count: a whole number, one of the choices, or fields."""
    if answer == NO_OPENING:
        return put_no_opening(draft)
    value = read_count(answer.strip())
    if answer not in doubt.options and isinstance(value, int):
        return put_checked(draft, {"quantity": value})
    return put_any(draft, answer, doubt)


def is_diameter(draft: Draft, answer: str, field: str) -> bool:
    """Whether an answer is one length that is a diameter: it says so (4 in dia), or it is the size of a pipe."""
    length = without_round(answer)
    said = length != answer.strip() or draft.values.get("shape") in ("round", "pipe")
    pipe = field == "size" and draft.values.get("kind") == "pipe"
    return (said or pipe) and field in ("size", "width", "height") and not read_cell_length(length, "").code


OTHER_LENGTHS = frozenset(LENGTH_NAMES) - {"width", "height", "diameter"}  # no pair of sides answers about these


def put_size(draft: Draft, answer: str, doubt: Doubt) -> str:
    """A length or a size, one of the choices, or fields."""
    draft.rough = draft.rough or (doubt.code in ROUGH_ASKED and answer not in doubt.options)
    if answer == NO_OPENING:
        return put_no_opening(draft)
    if answer in doubt.options or "=" in answer:
        return put_any(draft, answer, doubt)
    if says_pipe(answer) and (diameter := outside_diameter(answer)) is not None:
        draft.written.setdefault("diameter", answer[:80])
        return put_checked(draft, {"kind": draft.values.get("kind", "pipe"), "diameter": diameter})
    name = "diameter" if is_diameter(draft, answer, doubt.field) else doubt.field
    answer = without_round(answer) if name == "diameter" else answer
    if name == "size" or (" x " in answer and name not in OTHER_LENGTHS):
        width, height = read_cell_size(answer, "")
        if width.code or height.code:
            return (
                put_any(draft, answer, doubt)
                if answer.startswith(("set_aside", "alternate"))
                else f"{answer[:40]!r} is no size: {SIZE_OR_DIAMETER} is expected"
            )
        return put_checked(draft, {"width": width.text, "height": height.text})
    reading = read_cell_length(answer, "")
    if reading.code:
        return put_any(draft, answer, doubt) if answer.startswith(("set_aside", "alternate")) else reading.detail
    return put_checked(draft, {name: reading.text})


def put_storeys(draft: Draft, answer: str, doubt: Doubt) -> str:
    """A count on each storey, or on all of them together."""
    if answer == ON_ALL:
        draft.storeys = ()
        return ""
    return "" if answer == ON_EACH else put_count(draft, answer, doubt)


def put_again(draft: Draft, answer: str, doubt: Doubt) -> str:
    """A line that another section repeats stands once more, or does not."""
    if answer == COUNT_AGAIN:
        draft.again += ((doubt.field, doubt.parts[0]),)
    return "" if answer in (COUNT_AGAIN, AS_LISTED) else put_count(draft, answer, doubt)


def put_places(draft: Draft, answer: str, doubt: Doubt) -> str:
    """A count at each of several places, or at all of them together."""
    if answer != ON_EACH:
        return "" if answer == ON_ALL else put_count(draft, answer, doubt)
    if doubt.parts:
        draft.at = (doubt.field, doubt.parts)
        return ""
    return (
        put_multiplied(draft, MULTIPLY, doubt)
        if doubt.detail.isdecimal()
        else "how many places there are is not said: a whole number is expected"
    )


def put_marks(draft: Draft, answer: str, doubt: Doubt) -> str:
    """A count for each of several marks, or for all of them together."""
    if answer == EACH:
        draft.several = doubt.parts
        return ""
    if answer == TOGETHER:
        return ""
    return put_any(draft, answer, doubt)


def put_times(draft: Draft, answer: str, doubt: Doubt) -> str:
    """How often a count stands that is for one floor, unit or room."""
    times = 1 if answer == "once" else read_count(answer.strip())
    if answer in doubt.options or not isinstance(times, int):
        return put_any(draft, answer, doubt)
    count = draft.values.get("quantity")
    if isinstance(count, int) and times != 1:
        draft.written.setdefault("quantity", f"{count} x {times}")
        draft.values["quantity"] = count * times
    return ""


def put_delta(draft: Draft, answer: str, doubt: Doubt) -> str:
    """A change of another line's count: added to that line, which keeps its own way; this one then counts nothing."""
    if answer != ADDED:
        return put_count(draft, answer, doubt)
    other, change = doubt.other, int(doubt.detail)
    count = other.values.get("quantity") if other is not None else None
    if other is None or not isinstance(count, int) or count + change < 0:
        return "no line above has this mark and a count that this can be added to"
    other.written.setdefault("quantity", f"{count} and {doubt.written}")
    other.values["quantity"] = count + change
    draft.values |= {"quantity": 0, "excluded": {"reason": f"{doubt.written} is counted with the line above"}}
    return ""


def put_word(draft: Draft, answer: str, doubt: Doubt) -> str:
    """One of a field's words."""
    return "" if "=" in answer and isinstance(read_fields(answer), str) else put_any(draft, answer, doubt)


def put_sill(draft: Draft, answer: str, doubt: Doubt) -> str:
    """A kind of sill, or one as a schedule writes it: sloped 15 degrees."""
    said = read_sill(answer) if answer not in doubt.options else None
    return put_checked(draft, {"sill": dict(said)}) if said else put_any(draft, answer, doubt)


CAUSES: dict[str, Cause] = {
    "mark_unknown": Cause("Which mark is it?", choices=(NO_OPENING,), open_answer="a mark", put=put_mark),
    "several_marks": Cause(
        "Is the count for each of these marks, or for all together?", choices=(EACH, TOGETHER), put=put_marks
    ),
    "size_unknown": Cause("What is the size?", choices=(NO_OPENING,), open_answer=SIZE_OR_DIAMETER, put=put_size),
    "size_unreadable": Cause("What is the size?", open_answer=SIZE_OR_DIAMETER, put=put_size),
    "size_basis_of_line": Cause(
        "The cell says that this is not the rough opening. What is the rough size?", put=put_size
    ),
    "words_beside_size": Cause(
        "Numbers or words beside the size may change it. Does it stand as read? If not, what is the size?", put=put_size
    ),
    "size_in_words": Cause("The words name another size. Which one is right?", put=put_size),
    "quantity_unknown": Cause(
        "How many are there?", choices=(NO_OPENING,), open_answer="a whole number", put=put_count
    ),
    "quantity_unreadable": Cause("How many openings are there?", open_answer="a whole number", put=put_count),
    "typical_count": Cause(
        "Is the count for each of these, or the total?", open_answer="a whole number", put=put_count
    ),
    "count_unlikely": Cause(
        "The count is far above all others. Is it right?", open_answer="a whole number", put=put_count
    ),
    "leaves": Cause(
        "Is the size that of the opening for all leaves? If not, what is the size of the rough opening?", put=put_size
    ),
    "count_in_mark": Cause(
        "A number stands beside the mark. How many are there?", open_answer="a whole number", put=put_count
    ),
    "quantity_per": Cause(
        "The count is for one of several. How often does it count?",
        choices=("once",),
        open_answer="a whole number",
        put=put_times,
    ),
    "comment_words": Cause("A comment on a cell may change these lines. Do they stand as drawn?"),
    "count_beside_size": Cause(
        "A count stands beside the size. Does it multiply the line's count, or is the line's count the total?",
        open_answer="a whole number",
        put=put_count,
    ),
    "count_words": Cause(
        "Does the count stand as drawn? If not, how many rough openings are there?",
        open_answer="a whole number, or fields such as quantity=4, width=36 in",
        put=put_count,
    ),
    "total_against_places": Cause(
        "Why do they differ?",
        open_answer="an explanation, or fields",
        put=lambda draft, answer, doubt: "" if "=" not in answer else put_any(draft, answer, doubt),
    ),
    "typical_storeys": Cause(
        "Is the count on each of these storeys, or on all together? A whole number is the count on each storey.",
        choices=(ON_EACH, ON_ALL),
        open_answer="a whole number: the count on each storey",
        put=put_storeys,
    ),
    "several_places": Cause(
        "Is the count at each of these places, or at all of them together? "
        "A whole number is the count at all of them together.",
        open_answer="a whole number: the count at all of them together",
        put=put_places,
    ),
    "section_repeats": Cause(
        "Another section says that it is as that of these lines. Do they stand once more there?",
        choices=(COUNT_AGAIN, AS_LISTED),
        open_answer="a whole number of the lines as listed",
        put=put_again,
    ),
    "multiplier": Cause(
        "Are the counts for one of each, or already the totals?",
        open_answer="a whole number",
        put=put_multiplied,
        tell=ask_multiplied,
    ),
    "ditto": Cause(
        "Marks of repetition stand here. Does the line above count for them?", open_answer="a value", put=put_size
    ),
    "count_delta": Cause(
        "Is this added to the line above of the same mark, or a line by itself?",
        open_answer="a whole number",
        put=put_delta,
    ),
    "similar_words": Cause("Words say that these are similar or opposite to others. Do size and count stand as drawn?"),
    "place_blank": Cause("Other lines have a place here, these have none. Is it that of the line above?", BLOCKS_ISSUE),
    "kind_unknown": Cause("Which kind of opening is it?", BLOCKS_ISSUE),
    "kind_beside": Cause("These words name another kind of opening than the line is taken for. Which kind is it?"),
    "access_unknown": Cause("Which access is it?", BLOCKS_ISSUE, put=put_word),
    "substrate_unknown": Cause("Which substrate is it?", BLOCKS_ISSUE, put=put_word),
    "depth_words": Cause(
        "Words name a depth of return or wall that the line does not give. Is it the treated depth?",
        BLOCKS_ISSUE,
        open_answer="fields such as treated_depth=8 in",
    ),
    "shape_words": Cause(
        "Words tell of another shape than a rectangle. Which shape is it?",
        open_answer="fields such as shape=segmental_top, rise=8 in, or set_aside: reason, or alternate NAME",
        put=put_shape,
    ),
    "scope_words": Cause("Words may put these lines out of the work. Are they set aside, or priced as drawn?"),
    "scope_count": Cause(
        "A number stands under words of scope. Is it set aside from the count, does it alone count, "
        "is the whole line set aside, or none of it?",
        open_answer="a whole number that counts, set_aside: reason, or fields such as quantity=4",
        put=put_count,
    ),
    "alternate_words": Cause(
        "Words make these lines an alternate. Are they one, part of the base as drawn, or set aside?"
    ),
    "interior_words": Cause("Words say that these openings are interior. Are they set aside, or priced as drawn?"),
    "fire_rated": Cause(
        "Words say that these openings are fire-rated, which the design professional decides on. "
        "Are they priced as drawn, or set aside?"
    ),
    "delta_words": Cause("Words say that these lines came or changed with an issue. Do they stand as drawn?"),
    "to_verify": Cause("Words say that these lines are to be verified. Do they stand as drawn?", BLOCKS_ISSUE),
    "sides_unknown": Cause("Which sides are treated?"),
    "sill_unknown": Cause(
        "Which sill is it? A sloped one is answered with its angle.",
        BLOCKS_ISSUE,
        open_answer="sloped 15 degrees, set_aside: reason, or alternate NAME",
        put=put_sill,
    ),
    "method_unknown": Cause("Which method is it, fluid or tape?"),
    "external_word": Cause("Is it exterior or interior?", BLOCKS_ISSUE, put=put_word),
}
