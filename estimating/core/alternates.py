"""Alternates taken in, alone or several together: each a full estimate, for set-up, packs and minimum don't add up.

An add comes into the base, a deduct goes out of it, a substitute comes in for the base lines of the marks it replaces.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace

from estimating.core.estimate import Estimate
from estimating.core.request import Request
from estimating.core.schedule import Schedule
from estimating.core.schedule_lines import DEDUCT, SUBSTITUTE, Line, mark_key
from estimating.core.variants import Variant, evaluate


@dataclass(frozen=True)
class Offered:
    """A named alternate of a schedule: its kind, the openings of its lines, the marks that it replaces."""

    name: str
    kind: str
    openings: int
    replaces: tuple[str, ...]


def offered(schedule: Schedule) -> Mapping[str, Offered]:
    """The alternates by name, in the order in which lines first say them; a line set aside says none."""
    found: dict[str, Offered] = {}
    for line in schedule.lines:
        name = line.alternate_name
        if name is None or line.reason is not None:
            continue
        replaces = line.offer.replaces if line.offer is not None else ()
        before = found.get(name, Offered(name, line.alternate_kind, 0, ()))
        marks = tuple(dict.fromkeys((*before.replaces, *replaces)))
        found[name] = replace(before, openings=before.openings + line.quantity, replaces=marks)
    return found


def taken_out(line: Line, accepted: Collection[Offered]) -> Iterator[str]:
    """The accepted alternates that take a line out of the base."""
    if not line.priced:
        return
    for one in accepted:
        if one.kind == DEDUCT and line.alternate_name == one.name:
            yield one.name
        if one.kind == SUBSTITUTE and line.mark_key in set(map(mark_key, one.replaces)):
            yield one.name


def with_alternates(request: Request, names: Collection[str]) -> tuple[Request, str | None]:
    """The request with these alternates accepted, and what stands against accepting all of them."""
    known = offered(request.schedule)
    accepted = [known[name] for name in known if name in names]
    lines, wrong = [], dict[str, None]()
    for line in request.schedule.lines:
        out = list(taken_out(line, accepted)) if accepted else []
        if len(out) > 1:
            both = " and ".join(f'"{name}"' for name in out)
            wrong[f"the alternates {both} both take {line.mark} out of the base; which lines then remain?"] = None
        if out:
            line = line._replace(reason=f"out by alternate {out[0]}")
        elif line.alternate in names and line.reason is None:
            line = line._replace(alternate=None)
        lines.append(line)
    schedule = replace(request.schedule, lines=tuple(lines))
    return replace(request, schedule=schedule), "; ".join(wrong) or None


def with_accepted(estimate: Estimate, names: Collection[str]) -> Variant:
    """The whole job with these alternates accepted; KeyError for a name that the schedule does not have."""
    known = offered(estimate.request.schedule)
    for name in names:
        known[name]
    request, reason = with_alternates(estimate.request, names)
    told = " + ".join(name for name in known if name in names)
    return Variant(told, reason, None, None) if reason is not None else evaluate(estimate, told, request)


def alternates(estimate: Estimate) -> tuple[tuple[Offered, Variant], ...]:
    """Each alternate accepted alone; what it adds is its price less the base price."""
    return tuple((one, with_accepted(estimate, {name})) for name, one in offered(estimate.request.schedule).items())
