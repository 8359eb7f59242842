"""What a drawing issue changed since an earlier one, and whether lines that size and place match are one renumbered."""

from __future__ import annotations

import re
from typing import Any

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import make_form
from api.pages.views.schedules import head
from estimating.actions import matches as actions
from estimating.intake.matches import Saying
from estimating.queries import projects
from estimating.queries.revision_changes import ListedChanges, listed_changes
from rates.core.problems import Problem, Refused
from rates.identity import read_id
from rates.paging import Wanted
from rates.refusals import Expected

MOST_LINES, MOST_REVISIONS = 300, 100
PAIR = re.compile(r"pair_([0-9]{1,7})_([0-9]{1,7})")


def show(visit: Visit) -> Show:
    """GET /schedules/{id}/changes: against the revision before, or an earlier one that is asked for."""
    values = head(visit)
    schedule = values["schedule"]
    wanted = Wanted(MOST_REVISIONS, None, "-revision")
    listed = projects.schedules(company=visit.company, project=schedule.project, wanted=wanted).items
    earlier = [one for one in listed if one.revision < schedule.revision]
    named = visit.typed.get("from") or visit.asked.get("from", "")
    since = next((one for one in earlier if str(one.id) == named), earlier[0] if earlier else None)
    values |= {"earlier": earlier, "since": since, "form": make_form((), typed=visit.typed, faults=visit.faults)}
    if since is not None:
        values |= found_values(listed_changes(company=visit.company, id=visit.id, since=since.id))
    return Show("schedules/changes.html", values)


def found_values(listed: ListedChanges) -> dict[str, Any]:
    """What the table of changes shows: the first lines that changed, and how many more did."""
    return {
        "found": listed.found,
        "changed": len(listed.rows),
        "unchanged": listed.unchanged,
        "lines": listed.rows[:MOST_LINES],
        "left_out": max(len(listed.rows) - MOST_LINES, 0),
    }


def decide(visit: Visit) -> Change:
    """POST /schedules/{id}/changes: what is said of proposed matches."""
    since = read_id(visit.typed.get("from", ""))
    said = [(PAIR.fullmatch(name), value) for name, value in visit.typed.items() if value in ("yes", "no")]
    pairs = [Saying(int(name[1]), int(name[2]), value == "yes") for name, value in said if name]
    if since is None or not pairs:
        raise Refused([Problem("", "missing", "say of one line at least whether it is the same")])
    ready = actions.prepare(company=visit.company, id=visit.id, since=since, pairs=pairs)
    expected = Expected(None)

    def act() -> Made:
        who: dict[str, Any] = {"company": visit.company, "member": visit.caller.member, "now": visit.now}
        _, decided = actions.decide(**who, ready=ready, expected=expected)
        return Made(f"/schedules/{visit.id}/changes?from={since}", visit.id, before=expected.seen, after=decided)

    return Change("decide-schedule-matches", act)
