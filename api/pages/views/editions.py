"""One edition of a rate book: what it changes and for whom, its life, each step checked before it is taken."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from api.pages.exchange import Change, Go, Made, Show, Visit
from api.pages.forms import TAG, Input, make_form
from api.pages.views.rates import names_in
from estimating.queries.edition_checks import edition_checks
from estimating.queries.impact import impact
from estimating.queries.projects import project_names
from estimating.queries.under_water import quotes_under_water
from rates.actions import editions as actions
from rates.core.card import TABLES
from rates.core.fields import text
from rates.core.problems import Problem, Refused, Unreadable
from rates.paging import Wanted
from rates.queries import books
from rates.queries.rate_moves import rate_moves
from rates.refusals import Expected, NotThere

MOST_STEPS, IMPACT_LINES, MOST_REASON = 200, 25, 2000
REASON = Input(
    "reason", "Why", "area", needed=True, wide=True, hint="It is kept with the step, and the drafter reads it."
)


class Step(NamedTuple):
    """A step of an edition's life: the state that it starts from, who may take it, what it says and does."""

    state: str
    scope: str
    title: str
    told: str
    action: str
    act: Callable[..., Any]
    gives_reason: bool = False


STEPS = {
    "submit": Step(
        "draft", "rates.draft", "Submit for approval", "Nobody changes it while it waits for approval.",
        "submit-edition", actions.submit,
    ),
    "approve": Step(
        "submitted", "rates.approve", "Approve", "It prices work from its first day on, and never changes again.",
        "approve-edition", actions.approve,
    ),
    "send_back": Step(
        "submitted", "rates.approve", "Send back", "It becomes a draft again, with your reason.",
        "send-back-edition", actions.send_back, True,
    ),
    "withdraw": Step(
        "approved", "rates.approve", "Withdraw", "It prices nothing more from now on. What was costed by it stays.",
        "withdraw-edition", actions.withdraw, True,
    ),
    "delete": Step(
        "draft", "rates.draft", "Delete the draft", "Nothing of it stays but the record of its steps.",
        "delete-edition", actions.delete_draft,
    ),
}  # fmt: skip


def show(visit: Visit) -> Show:
    """GET /editions/{id}."""
    whole = books.edition(company=visit.company, id=visit.id)
    steps = books.steps(company=visit.company, id=visit.id, wanted=Wanted(MOST_STEPS))
    values = {"steps": steps.items, "takers": names_in(visit, [one.member for one in steps.items])}
    return Show("editions/edition.html", head(visit, whole) | changed(visit, whole) | values)


def head(visit: Visit, whole: books.WholeEdition, here: str = "") -> dict[str, Any]:
    """What stands above every page of an edition."""
    edition = whole.edition
    possible = [(name, step) for name, step in STEPS.items() if step.state == edition.state and visit.may(step.scope)]
    return {
        "edition": edition,
        "book": books.book(company=visit.company, id=edition.rate_book),
        "tables": TABLES,
        "here": here,
        "possible": possible,
        "names": names_in(visit, (edition.drafted_by, edition.submitted_by, edition.approved_by)),
        "currency": edition.currency,
    }


def changed(visit: Visit, whole: books.WholeEdition) -> dict[str, Any]:
    """What is unlikely in an edition, what it changes against the one before it, and the open bids under it."""
    checks = edition_checks(company=visit.company, edition=visit.id, now=visit.now)
    moves = rate_moves(company=visit.company, edition=visit.id, now=visit.now)
    rows = None
    if moves.before is not None:
        rows = books.changes(company=visit.company, id=visit.id, since=moves.before.id)
    bids = water = None
    if whole.edition.state in ("draft", "submitted") and visit.may("costs"):
        wanted = Wanted(IMPACT_LINES, visit.asked.get("cursor"))
        bids = impact(company=visit.company, edition=visit.id, now=visit.now, wanted=wanted)
        water = quotes_under_water(company=visit.company, edition=visit.id, now=visit.now)
    projects = {one.project for one in bids.items if one.project is not None} if bids is not None else set()
    names = project_names(company=visit.company, ids=projects)
    return {"checks": checks, "moves": moves, "rows": rows, "page": bids, "water": water, "projects": names}


def show_step(visit: Visit) -> Show:
    """GET /editions/{id}/{step}: all that it changes and for whom, before the step is taken."""
    step = STEPS.get(visit.places["step"])
    if step is None or not visit.may(step.scope):
        raise NotThere
    whole = books.edition(company=visit.company, id=visit.id)
    inputs = (REASON,) if step.gives_reason else ()
    form = make_form(inputs, typed=visit.typed, faults=visit.faults, tag=whole.tag, stale=visit.stale)
    values = {"step": step, "step_name": visit.places["step"], "form": form, "fits": step.state == whole.edition.state}
    return Show("editions/step.html", head(visit, whole) | changed(visit, whole) | values)


def take_step(visit: Visit) -> Change | Go:
    """POST /editions/{id}/{step}: on the edition as it was shown, by the digest that was read."""
    name = visit.places["step"]
    step = STEPS.get(name)
    if step is None or not visit.may(step.scope):
        raise NotThere
    told: dict[str, Any] = {"reason": reason_of(visit)} if step.gives_reason else {}
    if name == "approve":
        told["reviewed"] = visit.typed.get("digest", "")[:64]
    expected = Expected({visit.typed.get(TAG, "")})

    def act() -> Made:
        who = {"company": visit.company, "id": visit.id, "member": visit.caller.member}
        whole = step.act(**who, expected=expected, now=visit.now, **told)
        to = f"/editions/{visit.id}"
        if whole is None:
            to = f"/rates/{expected.seen.rate_book}"  # type: ignore[union-attr]
        return Made(to, visit.id, before=expected.seen, after=whole)

    return Change(step.action, act)


def reason_of(visit: Visit) -> str:
    """Why, as typed; Refused."""
    try:
        return str(text(MOST_REASON).parse(visit.typed.get("reason", "")))
    except Unreadable as why:
        raise Refused([Problem("/reason", "missing", why.detail)]) from None
