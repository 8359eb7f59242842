"""Forms: what is asked, what was typed, and the faults of a refused one at their fields and in a list of links."""

from __future__ import annotations

import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from rates.core.problems import Problem

ONCE, TAG = "once", "version"  # names of the hidden fields that every form has
SECRET = ("password", "old_password")
MARKED = ("text", "sized", "date", "time")  # a list always has a choice; one of several boxes may do for all


@dataclass(frozen=True)
class Input:
    """One field of a form. `kind`: text, email, password, date, time, number, decimal, sized, area, choice, radio,
    file, tick, ticks, hidden.

    `pointer`: where the faults of the action point, /name if blank. `choices`: (value, label) pairs. The value of
    `ticks`, of which several may be chosen, has one of them on a line.
    """

    name: str
    label: str
    kind: str = "text"
    hint: str = ""
    needed: bool = False
    choices: Sequence[tuple[str, str]] = ()
    pointer: str = ""
    fill: str = ""  # what the browser may fill in: an autocomplete token
    when: str | None = None  # when it is needed, where that is not for good or never; "" where it goes without saying
    wide: bool = False
    value: str = ""
    error: str = ""
    stored: str | None = None  # what is stored now, where somebody else changed it meanwhile

    @property
    def id(self) -> str:
        """The id of the field in the page."""
        return f"field-{self.name}"

    @property
    def mark(self) -> str:
        """What stands behind the label: that it may be left blank, or when it may not."""
        if self.when is not None:
            return self.when
        may_be_blank = self.kind in MARKED or (self.kind == "radio" and not self.value)
        return "optional" if may_be_blank and not self.needed else ""

    @property
    def ticked(self) -> list[str]:
        """The values chosen of `ticks`."""
        return self.value.split("\n")

    @property
    def told_by(self) -> str:
        """The ids of what describes the field."""
        parts = [f"{self.id}-{what}" for what in ("hint", "error", "stored") if getattr(self, what) not in ("", None)]
        return " ".join(parts)


@dataclass(frozen=True)
class Fault:
    """A line of the list of faults: a sentence, and the field that it is about ("": none)."""

    sentence: str
    id: str = ""


@dataclass(frozen=True)
class Form:
    """A form as it is shown."""

    inputs: tuple[Input, ...]
    faults: tuple[Fault, ...]
    once: str
    tag: str = ""

    def __getitem__(self, name: str) -> Input:
        """A field by its name; templates ask so as well."""
        for one in self.inputs:
            if one.name == name:
                return one
        raise KeyError(name)


def new_once() -> str:
    """What tells one showing of a form from another: sent twice, it is done once."""
    return secrets.token_urlsafe(12)


def make_form(
    inputs: Sequence[Input],
    *,
    stored: Mapping[str, Any] | None = None,
    typed: Mapping[str, Any] | None = None,
    faults: Sequence[Problem] = (),
    tag: str = "",
    stale: bool = False,
) -> Form:
    """The form with what is stored or, where something was typed, with that; each fault at its field.

    `stale`: the row has changed since the form was shown, so that what is stored now stands beside what was typed.
    """
    stored = stored or {}
    shown, left = [], list(faults)
    for one in inputs:
        now = as_text(stored.get(one.name, one.value))
        value = now if not typed or one.kind in ("file", "password") else typed_value(one, typed)
        own = [fault for fault in left if is_of(fault.pointer, one.pointer or f"/{one.name}")]
        left = [fault for fault in left if fault not in own]
        other = said_of(one, now) if stale and now != value else None
        error = "; ".join(dict.fromkeys(fault.detail for fault in own))
        shown.append(replace(one, value="" if one.kind in ("file", "password") else value, error=error, stored=other))
    told = [Fault(f"{one.label}: {one.error}", first_id(one)) for one in shown if one.error]
    told += [Fault(sentence) for sentence in dict.fromkeys(fault.detail for fault in left)]
    return Form(tuple(shown), tuple(told), new_once(), tag)


def typed_value(one: Input, typed: Any) -> str:
    """What was typed into a field or, of several ticks, which were set."""
    return "\n".join(typed.getlist(one.name)) if one.kind == "ticks" else as_text(typed.get(one.name, ""))


def said_of(one: Input, value: str) -> str:
    """A value as a person reads it: of what is chosen the labels."""
    labels = dict(one.choices)
    return "; ".join(labels.get(line, line) for line in value.split("\n")) if labels else value


def first_id(one: Input) -> str:
    """Where a link to a field goes: to the first of its buttons."""
    return f"{one.id}-0" if one.kind in ("radio", "ticks") else one.id


def is_of(pointer: str, field: str) -> bool:
    """Whether a fault is about a field or something inside it."""
    return pointer == field or pointer.startswith(f"{field}/")


def as_text(value: Any) -> str:
    """A stored value as its field holds it."""
    return "" if value is None else str(value)
