"""A form done once: the mark in it is kept with the change itself, and what it came to is answered again.

A browser that goes back may load the form anew, with another mark and what was typed before. So the same content is
kept for a while too: sent again to the same address, it is asked about first.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect

from api.pages.carried import typed_fields
from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import ONCE, TAG
from api.pages.refusals import refuse
from api.plain import plain
from api.sessions import session_source
from estimating.work.execute import execute
from rates.actions import idempotency
from rates.actions.audit import note
from rates.actions.idempotency import KeyTaken, Record
from rates.scope import changes_of, reads_of

SEE_OTHER = 303
MARK, SAME = "page:", "page-same:"  # before a key, so that none of a program is the same
SAME_SECONDS = 900  # in this stretch of time and the one before it the same content is asked about
TWICE = "send_as_well"  # the field of a form that says so


def mark_of(request: HttpRequest) -> str:
    """The mark of the showing of a form; "" where none was sent."""
    return request.POST.get(ONCE, "")[:80]


def fingerprint(request: HttpRequest) -> str:
    """What tells whether the same was sent again: the address, all that was typed, the bytes of files."""
    told = hashlib.sha256(request.path.encode())
    for name, value in sorted(typed_fields(request)):
        if name not in (TAG, ONCE, TWICE):
            told.update(f"\0{name}\0{value}".encode())
    for name, files in sorted(request.FILES.lists()):
        for file in files:
            told.update(f"\0{name}\0{file.name}\0".encode())
            for chunk in file.chunks():
                told.update(chunk)
            file.seek(0)
    return told.hexdigest()


def go(to: str) -> HttpResponse:
    """On to another page, asked for by GET."""
    response = HttpResponseRedirect(to)
    response.status_code = SEE_OTHER
    return response


def earlier(visit: Visit) -> HttpResponse | None:
    """What the form came to when it was sent before, or its content a while ago; None for what is sent first."""
    mark, told = mark_of(visit.request), fingerprint(visit.request)
    keys = [MARK + mark] if mark else []
    if visit.typed.get(TWICE) != "yes":
        keys += [same_key(told, visit.now.timestamp() - ago) for ago in (0, SAME_SECONDS)]
    with reads_of(visit.company):
        for key in keys:
            record = idempotency.find(company=visit.company, owner=visit.caller.owner, key=key)
            if record is not None:
                return answer_again(visit, record, is_mark=key.startswith(MARK) and record.fingerprint == told)
    return None


def same_key(told: str, seconds: float) -> str:
    """The key of a content in a stretch of time."""
    return f"{SAME}{told}:{int(seconds) // SAME_SECONDS}"


def answer_again(visit: Visit, record: Record, *, is_mark: bool) -> HttpResponse:
    """To where the first sending led; where it is not that very form, the choice to look there or to send this too."""
    to = record.headers.get("Location", "/")
    if is_mark:
        return go(to)
    kept = [(name, value) for name, value in typed_fields(visit.request) if name not in (ONCE, TWICE)]
    sentence = "This was sent before, a little while ago or by the same form. What came of it is one step away."
    lost, again = bool(visit.request.FILES), visit.request.get_full_path()
    caller = visit.caller if visit.caller.scopes else None  # who came by a link has no menu
    kept.append((TWICE, "yes"))
    return refuse(visit.request, "conflict", sentence, caller=caller, lost_files=lost, done=to, to=again, kept=kept)


def do_once(visit: Visit, change: Change, show: Callable[[Show], HttpResponse]) -> HttpResponse:
    """The change done, with its entry in the audit and the mark of its form; a run is worked on after it is stored.

    What is shown this once is kept by no browser, and not shown again where the form is sent again.
    """
    mark = mark_of(visit.request)
    try:
        made = store(visit, change, mark)
    except KeyTaken:
        found = earlier(visit)
        assert found is not None
        return found
    if made.claim is not None:
        execute(made.claim, job=made.job)
    if made.shown is None:
        return go(made.to)
    response = show(made.shown)
    response["Cache-Control"] = "no-store"
    return response


def store(visit: Visit, change: Change, mark: str) -> Made:
    """What the change came to, in one transaction; KeyTaken where the form was sent before."""
    company = visit.company
    told = fingerprint(visit.request)
    keys = [same_key(told, visit.now.timestamp())] if visit.typed.get(TWICE) != "yes" else []
    with changes_of(company):
        records = [
            idempotency.open_record(company=company, owner=visit.caller.owner, key=key, fingerprint=told, now=visit.now)
            for key in ([MARK + mark] if mark else []) + keys
        ]
        made = change.act()
        by = session_source(visit.request, visit.caller.member)
        first = (change.action, made.subject, made.after)
        for place, (action, subject, after) in enumerate((first, *made.more)):
            before = plain(made.before) if made.before is not None and not place else None
            kept = plain(after) if after is not None else None
            note(company=company, source=by, action=action, now=visit.now, subject=subject, before=before, after=kept)
        for record in records:
            headers = {"Location": made.to}
            idempotency.close_record(company=company, id=record, status=SEE_OTHER, headers=headers, body=b"")
    return made
