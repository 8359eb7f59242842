"""The steps of a quote: which price, looked over and issued, approved, how it ended, quoted anew on another drawing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import TAG, Input, make_form
from api.pages.views.quote_drafts import change_draft, read_form
from api.pages.views.quotes import BASES, head, whole
from api.pages.views.schedule_changes import found_values
from api.quote_fields import APPROVAL, AWARD, CHANGE_QUOTE, CLOSE, REQUOTE
from estimating import awards
from estimating.actions import quote_issue, requotes
from estimating.actions import quotes as actions
from estimating.queries import projects, quote_content
from estimating.queries import quotes as queries
from estimating.queries.quotes_found import drafter
from estimating.queries.revision_changes import listed_changes
from rates.core.problems import Problem, Refused
from rates.core.texts import counted
from rates.paging import Wanted
from rates.queries.companies import company
from rates.refusals import Expected

MOST_REVISIONS = 100
WHY, ALTERNATES = "reason", "alternates"
ADDENDUM = (
    Input("addendum_name", "Addendum or bulletin that brought it", pointer="/addenda/{n}/name"),
    Input("addendum_day", "Acknowledged on", "date", pointer="/addenda/{n}/acknowledged_on"),
)


def who(visit: Visit, expected: Expected) -> dict[str, Any]:
    """For whom a quote is changed, by whom, which state was read."""
    return {
        "company": visit.company,
        "member": visit.caller.member,
        "id": visit.id,
        "expected": expected,
        "now": visit.now,
    }


def step(visit: Visit, action: str, act: Any, **said: Any) -> Change:
    """A step of a quote on the state that the form was shown in."""
    expected = Expected({visit.typed.get(TAG, "")})

    def store() -> Made:
        quote = act(**who(visit, expected), **said)
        return Made(f"/quotes/{visit.id}", visit.id, before=expected.seen, after=quote)

    return Change(action, store)


def typed_reason(visit: Visit) -> str | None:
    """A reason as typed, on one line; None where none was."""
    return " ".join(visit.typed.get(WHY, "").split()) or None


def form_of(visit: Visit, values: Mapping[str, Any], *inputs: Input, stored: Mapping[str, Any] | None = None) -> Any:
    """A form on a quote as it stands."""
    typed, faults = visit.typed, visit.faults
    return make_form(inputs, stored=stored, typed=typed, faults=faults, tag=values["tag"], stale=visit.stale)


def offers(visit: Visit) -> Show:
    """GET /quotes/{id}/offers: held rates, today's and their blend side by side."""
    values = head(visit)
    quote = values["quote"]
    inputs = (
        Input("basis", "Which price", "hidden"),
        Input("valid_until", "Valid until", "date", hint="Held rates bind no longer than the quote that it replaces."),
        Input("basis_reason", "Why this one", "area", wide=True, hint="For the office; it stands in no letter."),
    )
    before: dict[str, Any] = {}
    if quote["replaces"]:
        id = visit.uuid_of(quote["replaces"])
        found = queries.quote(company=visit.company, id=id, role=visit.caller.role, now=visit.now)
        before = {"number": found.number, "price": found.price, "valid_until": found.valid_until}
    return Show(
        "quotes/offers.html", values | {"form": form_of(visit, values, *inputs, stored=quote), "before": before}
    )


def choose(visit: Visit) -> Change:
    """POST /quotes/{id}/offers."""
    names = ("basis", "valid_until", "basis_reason")
    body = {name: visit.typed.get(name, "").replace("\r\n", "\n") for name in names}
    return change_draft(visit, read_form(CHANGE_QUOTE, body), f"/quotes/{visit.id}")


def check(visit: Visit) -> Show:
    """GET /quotes/{id}/issue: everything that goes out, read through before it does."""
    values = whole(visit)
    return Show("quotes/issue.html", values | {"form": form_of(visit, values)})


def issue(visit: Visit) -> Change:
    """POST /quotes/{id}/issue: a long letter is laid out before the lock under which it gets its number."""
    drawn = quote_issue.draw_ahead(company=visit.company, id=visit.id, now=visit.now)
    return step(visit, "issue-quote", quote_issue.issue, drawn=drawn)


def asks_approval(visit: Visit) -> Show:
    """GET /quotes/{id}/approve: the price against the floor, who asks, what keeps that person from issuing it."""
    asker = drafter(company=visit.company, id=visit.id)
    values = whole(visit, asker.role)
    reason = Input(WHY, "Why it may be offered", "area", needed=True, wide=True, hint="It is kept with the quote.")
    form = form_of(visit, values, reason)
    told = {"form": form, "asker": asker, "company": company(company=visit.company)}
    return Show("quotes/approve.html", values | told)


def approve(visit: Visit) -> Change:
    """POST /quotes/{id}/approve: approved with a reason, or an approval taken back."""
    if visit.typed.get("take_back") == "yes":
        return step(visit, "approve-quote", actions.approve, reason=None)
    said = read_form(APPROVAL, {WHY: typed_reason(visit)})
    if WHY not in said:
        raise Refused([Problem(f"/{WHY}", "missing", "say why it may be offered")])
    return step(visit, "approve-quote", actions.approve, reason=said[WHY])


def asks_award(visit: Visit) -> Show:
    """GET /quotes/{id}/award."""
    values = head(visit)
    inputs = [Input(WHY, "What the customer said", "area", wide=True, hint="May stay blank.")]
    letter = quote_content.reading(company=visit.company, id=visit.id, now=visit.now).letter
    if offered := alternates_of(letter, values["currency"]):
        inputs.insert(0, Input(ALTERNATES, "Alternates that are taken with it", "ticks", choices=offered))
    return Show("quotes/award.html", values | {"form": form_of(visit, values, *inputs), "offered": offered})


def alternates_of(letter: Mapping[str, Any], currency: str) -> list[tuple[str, str]]:
    """The alternates that a letter offers, each with what it alone would change."""

    def told(one: Mapping[str, Any]) -> str:
        return f"{one['name']}, {counted(one['openings'], 'opening')} ({one['what']}): {one['change']} {currency}"

    return [(one["name"], told(one)) for one in letter["alternates"]]


def award(visit: Visit) -> Change | Show:
    """POST /quotes/{id}/award: with alternates, what they come to together is shown before it is done."""
    names = visit.typed.getlist(ALTERNATES)
    said = read_form(AWARD, {WHY: typed_reason(visit), ALTERNATES: names})
    who: dict[str, Any] = {"company": visit.company, "id": visit.id, "names": said[ALTERNATES]}
    if visit.typed.get("then") == "look":
        shown = asks_award(visit)
        return Show(shown.template, {**shown.values, "taken": awards.taken(**who), "looked": True})
    return step(visit, "award-quote", quote_issue.award, reason=said[WHY], accepted=awards.accept(**who))


def asks_close(visit: Visit) -> Show:
    """GET /quotes/{id}/close."""
    values = head(visit)
    price = Input("competing_price", f"Price that was taken, {values['currency']}", hint="Where it is known: 12500.00")
    reason = Input(WHY, "Why the customer did not take it", "area", needed=True, wide=True)
    return Show("quotes/close.html", values | {"form": form_of(visit, values, reason, price)})


def close(visit: Visit) -> Change:
    """POST /quotes/{id}/close: also the correction of an award."""
    price = visit.typed.get("competing_price", "").strip()
    said = read_form(CLOSE, {WHY: typed_reason(visit), "competing_price": price or None})
    told = {"reason": said[WHY], "competing_price": price or None}
    return step(visit, "close-quote", quote_issue.close, **told)


def asks_requote(visit: Visit) -> Show:
    """GET /quotes/{id}/requote: what the newest drawing, or the one that is asked for, changed since this quote."""
    values = head(visit)
    values |= {"form": form_of(visit, values), "revisions": (), "chosen": None, "found": None, "bases": BASES}
    if values["project"] is None:
        return Show("quotes/requote.html", values)
    wanted = Wanted(MOST_REVISIONS, None, "-revision")
    revisions = projects.schedules(company=visit.company, project=values["project"].id, wanted=wanted).items
    named = visit.typed.get("schedule") or visit.asked.get("schedule", "")
    chosen = next((one for one in revisions if str(one.id) == named), revisions[0] if revisions else None)
    quoted = quote_content.quoted_schedule(company=visit.company, id=visit.id)
    inputs = addendum_of(len(values["quote"]["addenda"]))
    values |= {"form": form_of(visit, values, *inputs), "revisions": revisions, "chosen": chosen, "quoted": quoted}
    if chosen is not None and quoted is not None and chosen.id != quoted:
        values |= found_values(listed_changes(company=visit.company, id=chosen.id, since=quoted))
    return Show("quotes/requote.html", values)


def addendum_of(place: int) -> tuple[Input, ...]:
    """The fields of an addendum at its place in the list that the quote gets."""
    return tuple(Input(o.name, o.label, o.kind, o.hint, pointer=o.pointer.format(n=place)) for o in ADDENDUM)


def requote(visit: Visit) -> Change:
    """POST /quotes/{id}/requote: costed on the drawing; the prices are chosen from on the draft that this makes."""
    before = queries.quote(company=visit.company, id=visit.id, role=visit.caller.role, now=visit.now)
    schedule = visit.typed.get("schedule") or None
    name, day = (visit.typed.get(field, "").strip() or None for field in ("addendum_name", "addendum_day"))
    body: dict[str, Any] = {"schedule": schedule}
    if name or day:
        added = {"name": name, "acknowledged_on": day, "schedule": schedule}
        body["addenda"] = [*before.addenda, added]
    said = read_form(REQUOTE, body)
    ready = requotes.prepare(
        company=visit.company,
        id=visit.id,
        estimate=None,
        schedule=said.pop("schedule", None),
        said=said,
        units=visit.caller.unit_system,
        now=visit.now,
    )

    def act() -> Made:
        quote = requotes.store(company=visit.company, member=visit.caller.member, ready=ready, now=visit.now)
        return Made(f"/quotes/{quote.id}/offers", quote.id, after=quote)

    return Change("requote", act)
