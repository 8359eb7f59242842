"""The table of pages: an address, what it is called, who may see it and send its form, and the view that answers.

The first word of an address is the module in views/ and the folder in templates/ that make the page.
"""

from __future__ import annotations

import re

from django.urls import URLPattern, re_path

from api.pages import static_files
from api.pages.door import door
from api.pages.exchange import Page
from api.pages.views import (
    access_keys,
    assumptions,
    audit,
    calendars,
    change_order_steps,
    change_order_terms,
    change_orders,
    climates,
    comparisons,
    edition_tables,
    editions,
    estimates,
    grid,
    history,
    lines,
    on_site,
    overview,
    people,
    progress,
    project_terms,
    projects,
    questions,
    quote_drafts,
    quote_steps,
    quotes,
    rates,
    schedule_changes,
    schedules,
    search,
    sign_in,
    site,
    start,
    taking_in,
    texts,
    trying,
    why,
    work,
)

OWN = ("assumptions", "calendar", "crew")  # parts of an estimate with a view beside that of the others
PAGES: tuple[Page, ...] = (
    Page("/", "work", work.show),
    Page("/sign-in", "sign-in", sign_in.show, "", sign_in.enter, once=False),
    Page("/sign-out", "sign-out", sign_in.leaving, "", sign_in.leave, once=False),
    Page("/companies", "companies", sign_in.companies, "", sign_in.choose, once=False),
    Page("/invitation", "invitation", sign_in.invitation, "", sign_in.accept, once=False),
    Page("/projects", "projects", projects.listing),
    Page("/projects/new", "new-project", taking_in.new_project, "estimate", taking_in.make_project),
    Page("/projects/{id}", "project", projects.show),
    Page("/projects/{id}/schedules/new", "new-schedule", taking_in.new_schedule, "estimate", taking_in.add_schedule),
    Page("/projects/{id}/schedules/grid", "grid", grid.show, "estimate", grid.send),
    Page("/projects/{id}/edit", "edit-project", project_terms.show, "estimate", project_terms.change),
    Page("/projects/{id}/history", "history", history.show),
    Page("/projects/{id}/change-orders", "change-orders", change_orders.listing),
    Page(
        "/projects/{id}/change-orders/new",
        "new-change-order",
        change_order_terms.new,
        "quotes",
        change_order_terms.make,
    ),
    Page("/projects/{id}/compare", "compare", comparisons.choose, "estimate", comparisons.compare),
    Page("/projects/{id}/quotes/new", "new-quote", quote_drafts.new, "quotes", quote_drafts.make),
    Page("/quotes", "quotes", quotes.listing),
    Page("/quotes/{id}", "quote", quotes.show),
    Page("/quotes/{id}/documents/{document}", "quote-document", quotes.document),
    Page("/quotes/{id}/edit", "edit-quote", quote_drafts.edit, "quotes", quote_drafts.change),
    Page("/quotes/{id}/offers", "offers", quote_steps.offers, "quotes", quote_steps.choose),
    Page("/quotes/{id}/approve", "approve-quote", quote_steps.asks_approval, "quotes.approve", quote_steps.approve),
    Page("/quotes/{id}/issue", "issue-quote", quote_steps.check, "quotes", quote_steps.issue),
    Page("/quotes/{id}/award", "award-quote", quote_steps.asks_award, "quotes", quote_steps.award),
    Page("/quotes/{id}/close", "close-quote", quote_steps.asks_close, "quotes", quote_steps.close),
    Page("/quotes/{id}/requote", "requote", quote_steps.asks_requote, "quotes", quote_steps.requote),
    Page("/change-orders/{id}", "change-order", change_orders.show),
    Page("/change-orders/{id}/edit", "edit-change-order", change_order_terms.edit, "quotes", change_order_terms.change),
    Page(
        "/change-orders/{id}/{step}",
        "change-order-step",
        change_order_steps.show,
        "quotes",
        change_order_steps.take,
    ),
    Page("/comparisons/{id}", "comparison", comparisons.show),
    Page("/schedules/{id}", "schedule", schedules.show),
    Page("/schedules/{id}/file", "schedule-file", schedules.file),
    Page("/schedules/{id}/source", "schedule-source", schedules.source),
    Page("/schedules/{id}/questions", "questions", questions.listing, "read", questions.take_back, "answers"),
    Page("/schedules/{id}/questions/{question}", "question", questions.show, "read", questions.answer, "answers"),
    Page("/schedules/{id}/lines/new", "new-line", lines.new, "answers", lines.add),
    Page("/schedules/{id}/lines/{line}", "line", lines.show, "answers", lines.edit),
    Page("/schedules/{id}/edits", "edits", lines.edits, "answers", lines.take_back),
    Page(
        "/schedules/{id}/changes", "schedule-changes", schedule_changes.show, "read", schedule_changes.decide, "matches"
    ),
    Page("/schedules/{id}/site", "site", site.show, "estimate", site.ask),
    Page("/estimates/{id}", "estimate", estimates.show, "read", estimates.cancel, "estimate"),
    *(
        Page(f"/estimates/{{id}}/{part}", f"estimate-{part}", estimates.part(part), scope)
        for part, (_, scope) in estimates.PARTS.items()
        if part not in OWN
    ),
    Page("/estimates/{id}/calendar", "estimate-calendar", estimates.part("calendar", calendars.read_calendar)),
    Page("/estimates/{id}/crew", "estimate-crew", estimates.part("crew", calendars.read_crew)),
    Page("/estimates/{id}/crew/{zone}", "crew-sheet", calendars.show_sheet),
    Page("/estimates/{id}/assumptions", "estimate-assumptions", assumptions.show, "read", assumptions.sign, "answers"),
    Page("/estimates/{id}/progress", "progress", progress.show, "read", progress.send, "estimate"),
    Page("/estimates/{id}/zones", "zones", on_site.listing),
    Page("/estimates/{id}/zones/{zone}", "zone", on_site.show, "read", on_site.tell, "estimate"),
    Page("/on-site/{token}", "site-zones", on_site.listing, ""),
    Page("/on-site/{token}/{zone}", "site-zone", on_site.show, "", on_site.tell),
    Page("/estimates/{id}/what-if", "what-if", trying.show, "estimate", trying.attempt, once=False),
    Page("/estimates/{id}/why/{figure}", "why", why.show, "costs"),
    Page("/climates", "climates", climates.show, "read", climates.put, "answers"),
    Page("/texts", "texts", texts.show, "read", texts.put, "quotes.approve"),
    Page("/access-keys", "access-keys", access_keys.listing, "company"),
    Page("/access-keys/new", "new-access-key", access_keys.new, "company", access_keys.make),
    Page("/access-keys/{id}", "access-key", access_keys.show, "company", access_keys.revoke),
    Page("/people", "people", people.listing, "company"),
    Page("/people/new", "invite", people.new, "company", people.invite),
    Page("/people/{id}", "person", people.show, "company", people.change),
    Page("/people/{id}/invitation", "invite-again", people.asks_again, "company", people.renew),
    Page("/people/{id}/removal", "remove-person", people.asks_removal, "company", people.remove),
    Page("/overview", "overview", overview.show),
    Page("/audit", "audit", audit.show, "audit"),
    Page("/search", "search", search.show),
    Page("/start", "start", start.show, "read", start.send, "rates.draft"),
    Page("/rates", "rates", rates.listing, "rates.read"),
    Page("/rates/{id}", "rate-book", rates.show, "rates.read", rates.draft, "rates.draft"),
    Page("/editions/{id}", "edition", editions.show, "rates.read"),
    Page(
        "/editions/{id}/tables/{table}",
        "edition-table",
        edition_tables.show,
        "rates.read",
        edition_tables.put,
        "rates.draft",
    ),
    Page("/editions/{id}/{step}", "edition-step", editions.show_step, "rates.read", editions.take_step, "rates.read"),
)
PLACES = {"id": r"(?P<id>[^/.]+)", "figure": r"(?P<figure>.+)"}
TAKEN = r"(?P<name>[^/]+)"


def pattern(page: Page) -> URLPattern:
    """The URL pattern of a page."""
    places = re.sub(r"\{(\w+)\}", lambda match: PLACES.get(match[1], f"(?P<{match[1]}>[^/]+)"), page.path.lstrip("/"))
    return re_path(rf"^{places}\Z", door(page), name=f"page {page.name}")


def patterns() -> list[URLPattern]:
    """The URL patterns of all pages and of what they bring along."""
    files = re_path(rf"^static/[0-9a-f]{{16}}/{TAKEN}\Z", static_files.serve, name="page files")
    return [*(pattern(page) for page in PAGES), files]
