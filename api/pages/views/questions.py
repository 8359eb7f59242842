"""What a schedule leaves open: the dearest first, answered one by one, for one line or by rule, and taken back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any
from urllib.parse import urlencode

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import Input, make_form
from api.pages.trade_words import in_words
from api.pages.views.access_words import terms_of_access
from api.pages.views.answers_typed import CONDITIONS, SET_ASIDE, TYPED, WHOLE, reach_of, reaches, saying, seen_of
from api.pages.views.schedules import head, revision_of
from estimating.actions import answers as actions
from estimating.actions import choice_openings, stakes
from estimating.actions.answers import Answered
from estimating.intake.file_scope import file_scope
from estimating.intake.given_answers import Saying, TakeBack
from estimating.queries import intake
from estimating.queries.source_cells import written_rows
from rates.core.fraction import Fraction
from rates.core.problems import Problem, Refused
from rates.core.texts import counted
from rates.paging import Wanted
from rates.refusals import Conflict, NotThere

MOST_QUESTIONS, PRICED_AT_ONCE, MOST_ABOUT = 500, 200, 50
UNITS = {
    "in": "inches", "ft": "feet", "mm": "millimetres", "cm": "centimetres", "m": "metres",
    "ft_in": "feet and inches: 6-8 is 6 ft 8 in",
}  # fmt: skip
TWICE, SAME = "duplicate_line", ("mark", "elevation", "storey", "building")
LEAVE_OUT = "leave_out"
OF_ACCESS = frozenset({"access_missing", "access_unknown"})


def listing(visit: Visit) -> Show:
    """GET /schedules/{id}/questions: open ones by what is at stake, then what there is to know, what was answered."""
    revision = revision_of(visit)
    values = head(visit, revision)
    page = intake.questions(revision, Wanted(MOST_QUESTIONS))
    known = {question["id"]: question for question in page.items}
    costed, lines = values["costed"], values["schedule"].lines
    by = visit.asked.get("by", "money" if lines <= PRICED_AT_ONCE else "openings")
    by_money = costed is not None and by == "money"
    ranked = ranking(visit, revision, costed.id if by_money else None, known)
    values |= {
        "open": [(known[one["question"]], one) for one in ranked if one["question"] in known],
        "answered": [one for one in page.items if one["answer"] is not None],
        "to_know": [one for one in page.items if one["severity"] == "to_know" and one["answer"] is None],
        "by_money": by_money,
        "told": told_of(visit, revision),
        "form": make_form(()),
    }
    return Show("schedules/questions.html", values)


def ranking(visit: Visit, revision: intake.Received, estimate: Any, known: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Open questions with their stakes, what blocks costing before the others, each by money or else by openings.

    What may leave a table's lines out comes before what is asked about these lines: it settles some of that.
    """
    unpriced = stakes.by_openings(revision.report, revision.style)
    priced = {}
    if estimate is not None:
        try:
            found = stakes.at_stake(company=visit.company, id=visit.id, estimate=estimate)
            priced = {one.question: one for one in found}
        except Refused:
            pass  # too many lines to price each choice: openings tell the order
    order = {id: place for place, id in enumerate(priced)}
    last = len(order)

    def place(one: Any) -> tuple[bool, bool, int]:
        leaves_out = LEAVE_OUT in known.get(one.question, {}).get("choices", ())
        return one.severity != "blocks_costing", not leaves_out, order.get(one.question, last)

    chosen = sorted(unpriced, key=place)
    ranked = [priced.get(one.question, one) for one in chosen]
    return [vars(one) | {"span": span_of(one.prices, one.choices_shown)} for one in ranked]


def span_of(prices: Mapping[str, str], shown: Mapping[str, str]) -> dict[str, str] | None:
    """The least and the greatest price under the choices, each with its choice in words."""
    if len(prices) < 2:
        return None
    least, most = (pick(prices, key=lambda choice: Fraction(prices[choice])) for pick in (min, max))
    words = {choice: in_words(shown.get(choice, choice)) for choice in (least, most)}
    return {"least": prices[least], "least_of": words[least], "most": prices[most], "most_of": words[most]}


def told_of(visit: Visit, revision: intake.Received) -> dict[str, Any] | None:
    """What the answer before did, as the address tells it in counts; mark: of the one line that it was given for."""
    found = {name: visit.asked.get(name, "0") for name in ("settled", "lines", "asked", "some", "left", "beside")}
    if "settled" not in visit.asked or not all(map(is_count, found.values())):
        return None
    told: dict[str, Any] = {name: int(text) for name, text in found.items()}
    line = visit.asked.get("line", "")
    if is_count(line) and int(line) < len(revision.lines):
        told["mark"] = revision.lines[int(line)].get("mark", "")
    return told


def is_count(text: str) -> bool:
    """Whether a text of an address is a count or a line's number."""
    return text.isascii() and text.isdigit() and len(text) < 7


def find_question(visit: Visit, revision: intake.Received) -> dict[str, Any]:
    """The question that the address names; NotThere."""
    for question in intake.questions(revision, Wanted(MOST_QUESTIONS)).items:
        if question["id"] == visit.places["question"]:
            return dict(question)
    raise NotThere


def show(visit: Visit) -> Show:
    """GET /schedules/{id}/questions/{question}."""
    return Show("schedules/question.html", page_of(visit, None))


def page_of(visit: Visit, preview: Mapping[str, Any] | None) -> dict[str, Any]:
    """A question with its form; `preview`: what the answer at hand would do."""
    revision = revision_of(visit)
    values = head(visit, revision)
    question = find_question(visit, revision)
    terms = terms_of_access(visit, values["project"].rate_book) if question["code"] in OF_ACCESS else {}
    counts = choice_openings.openings_by_choice(company=visit.company, id=visit.id, question=question["id"])
    offered = tuple(
        (choice, with_openings(UNITS.get(choice) or in_words(shown), counts.get(choice)) + terms.get(choice, ""))
        for choice, shown in zip(question["choices"], question["choices_shown"], strict=False)
    )
    open_answer = question["open_answer"] = question["open_answer"].replace("set_aside", SET_ASIDE)
    is_open = bool(open_answer) or not offered
    now = question["answer"] or ""
    value = now if not now or now in question["choices"] else TYPED
    inputs = (
        Input("answer", "Answer", "radio", choices=offered, needed=True, wide=True, value=value),
        Input(
            "words",
            "Your answer",
            "sized",
            hint=f"Written like this: {open_answer}." if open_answer and not offered else "",
            value=now if value == TYPED else "",
        ),
        Input("reach", "For which lines", "radio", choices=reaches(question), value=WHOLE),
        *CONDITIONS,
    )
    typed = {**visit.typed.dict(), "reach": reach_of(visit)} if visit.typed else {}
    form = make_form(inputs, typed=typed, faults=visit.faults)
    lines = intake.reading(revision, Wanted(500)).items
    asked = set(question["lines"])
    about = [line for line in lines if line["line"] in asked]
    if question["code"] == TWICE:
        places = {place_of(line) for line in about}
        about = [line for line in lines if place_of(line) in places]
    question["cells"] = list(dict.fromkeys(question["cells"]))
    shown = about[:MOST_ABOUT]
    return values | {
        "question": question, "form": form, "preview": preview, "about": shown, "asked": asked,
        "written": as_written(visit, shown),
        "line": visit.typed.get("line", ""), "seen": seen_of(visit),
        "more": max(len(about), len(question["lines"])) - len(shown),
        "is_typed": TYPED, "is_open": is_open, "is_chosen": bool(offered),
    }  # fmt: skip


def as_written(visit: Visit, lines: Sequence[Mapping[str, Any]]) -> dict[str, list[tuple[str, str, str]]]:
    """The whole row of each line as the file has it: what a doubt is about is often what could not be read."""
    return written_rows(company=visit.company, id=visit.id, rows={str(line["cell"]) for line in lines})


def with_openings(label: str, openings: int | None) -> str:
    """A choice with the openings that it leaves to price, where they are known."""
    return label if openings is None else f"{label} ({counted(openings, 'opening')} to price)"


def place_of(line: Mapping[str, Any]) -> tuple[str, ...]:
    """Mark and place of a line, by which it is one that stands twice."""
    fields = line["fields"]
    return tuple(str(fields[name]["value"]).casefold() if name in fields else "" for name in SAME)


def answer(visit: Visit) -> Change | Show:
    """POST /schedules/{id}/questions/{question}: what the answer would do is shown, or it is stored."""
    question = find_question(visit, revision_of(visit))
    said = saying(visit, question)
    answered = read(visit, [said], [])
    step, looked_at = visit.typed.get("step"), visit.typed.get("seen") == seen_of(visit)
    if step == "see" or (said.rule is not None and not (step == "store" and looked_at)):
        return Show("schedules/question.html", page_of(visit, preview_of(visit, answered)))
    return store(visit, answered, question["id"], said.line)


def preview_of(visit: Visit, answered: Answered) -> dict[str, Any]:
    """What an answer would do, with the openings to price before and after."""
    found = actions.preview(company=visit.company, answered=answered)
    was = intake.beside(revision_of(visit))["scope"]["priced"]
    read_again = answered.received.intake
    now = file_scope(read_again.lines, read_again.length_unit).scope.priced
    sizes = [
        tuple(one.size if one else "" for one in (pair.smallest, pair.largest)) for pair in (found.before, found.after)
    ]
    return vars(found) | {"was": was, "now": now, "resized": sizes[0] != sizes[1] and any(sizes[1])}


def take_back(visit: Visit) -> Change:
    """POST /schedules/{id}/questions: an answer, or all that a rule answered, holds no more."""
    question, rule = visit.typed.get("question", "")[:80], visit.typed.get("rule", "")[:80]
    if not question and not rule:
        raise Refused([Problem("", "missing", "nothing was named to take back")])
    return store(visit, read(visit, [], [TakeBack(question, None, rule, "")]), question)


def read(visit: Visit, sayings: list[Saying], backs: list[TakeBack]) -> Answered:
    """The file read again with answers; Refused with each at the field that it was typed into."""
    return actions.answer(
        company=visit.company, id=visit.id, member=visit.caller.member, sayings=sayings, backs=backs, now=visit.now
    )


def store(visit: Visit, answered: Answered, question: str, line: int | None = None) -> Change:
    """The new revision; Conflict where somebody made another one meanwhile.

    question: the one that was answered, which other questions may be settled with in part; line: answered alone.
    """

    def act() -> Made:
        changed = actions.store_answers(
            company=visit.company, member=visit.caller.member, answered=answered, now=visit.now
        )
        schedule = changed.schedule
        refuse_late(answered.before.number, schedule.revision)
        done = [one for one in changed.outcome.settled if not one.left]
        part = [one for one in changed.outcome.settled if one.left]
        own = [one for one in part if one.question == question]
        counts = {
            "settled": len(done),
            "lines": sum(one.settled for one in done),
            "asked": len(changed.outcome.asked),
            "some": sum(one.settled for one in own),
            "left": sum(one.left for one in own),
            "beside": sum(one.settled for one in part if one not in own),
        } | ({} if line is None else {"line": line})
        return Made(f"/schedules/{schedule.id}/questions?{urlencode(counts)}", schedule.id, after=schedule)

    return Change("answer-schedule-questions", act)


def refuse_late(before: int, made: int) -> None:
    """Conflict where the revision that was worked on is not the last one any more: both would be lost in one."""
    if made != before + 1:
        detail = (
            f"revision {made - 1} was made while you worked on revision {before}; "
            "open the newest revision, where what you typed can be given again"
        )
        raise Conflict("newer_revision", detail)
