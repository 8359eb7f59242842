"""What a note that stands outside of the lines says of all of them: counts, sizes, shapes, access and method.

Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from estimating.intake.draft import Draft
from estimating.intake.kind_words import kind_of
from estimating.intake.places_words import Places, read_places
from estimating.intake.scope_words import ASKED, Finding, read_words
from estimating.intake.size_remarks import size_in_note

HARDLY = frozenset(
    {
        "hold",
        "allowance",
        "not_applicable",
        "typical",
        "ditto",
        "similar",
        "unconfirmed",
        "exception",
        "fire_rated",
        "spare",
        "pair",
    }
)
_OF_ALL = re.compile(
    r"\bper (?:floor|flr|level|storey|building|bldg|unit|dwelling|apartment|elevation|side|bay|room)\b|\bmultipl(?:y|ied)\b|\b(?:one|1) (?:building|bldg|unit|floor|side) only\b"  # noqa: E501
    r"|\b(?:frame|unit|nominal|leaf|masonry|finish(?:ed)?) (?:sizes?|dimensions?|openings?)\b|\badd\b.{0,20}\bfor r\.?\s?o\b|\bto (?:the )?spring(?:line|ing)?\b"  # noqa: E501
    r"|\b(?:arched|round|segmental|half[ -]round) (?:heads?|tops?|windows)\b|\b(?:interior|exterior) (?:elevations?|openings?) only\b|\bwidth x height are\b"  # noqa: E501
    r"|\b(?:qty|quantit(?:y|ies)|counts?)\b[^.;]{0,20}\b(?:only|for (?:one|1|a|each)|half)\b"
    r"|\b(?:qty|quantit(?:y|ies)|counts?)\b[^.;]{0,25}\b(?:north|south|east|west|front|rear|left|right|side)\b"
    r"|\bhalf of (?:the )?(?:building|bldg|floor|elevation|schedule|list)\b|\bpartial (?:list|schedule|takeoff|count)\b"
    r"|\b(?:revised|changed|added|new|clouded|deleted|addendum|changes|additions)\b[^.;]{0,20}\bonly\b"
    r"|\bonly (?:revised|changed|added|new|clouded|deleted)\b"
    r"|\b(?:same|identical|mirror(?:ed)?|repeat(?:ed|s)?|alike|typical) (?:as|to|image|on|at|for|of)\b",
    re.IGNORECASE,
)  # notes that decide counts, sizes or shapes of all lines
_OF_WORK = re.compile(
    r"\b(?:from|by|use|using|via|on)\s+(?:a |the )?(?:\w+\s+)?(?:swing ?stages?|lifts?|scaffold\w*|booms?|ladders?)\b"
    r"|\b(?:tape|self[- ]adhered|fluid[- ]applied|liquid[- ]applied)\b"
    r".{0,40}\b(?:flashing|openings?|all|heads?|sills?|jambs?)\b",
    re.IGNORECASE,
)  # notes of the access to all lines, or of their method
_ALIKE = frozenset({"similar", "opposite", "same_place", "elsewhere", "ditto"})
_TOTAL = re.compile(
    r"([0-9]{1,5}) (openings?|windows?|doors?|louvers?) (?:in )?(?:total|all)|total (?:of )?(openings?|windows?|doors?|louvers?)?:? ?([0-9]{1,5})",  # noqa: E501
    re.IGNORECASE,
)


def is_multiplier(said: Places) -> bool:
    """Whether a text multiplies what stands below it."""
    return any(part.count and part.count > 1 and part.per != "opening" for part in said.multipliers) or (
        max(len(said.names("storey")), len(said.names("elevation"))) > 1
        or len(said.names("building")) + len(said.names("unit")) > 1
    )


def says_something(text: str, findings: Sequence[Finding]) -> bool:
    """Whether a note may change lines: by words of scope, shape, count or size, or by a multiplier."""
    said = _OF_ALL.search(text) or _OF_WORK.search(text)
    return bool(findings or is_multiplier(read_places(text)) or said or size_in_note(text))


def multiplies(finding: Finding) -> bool:
    """Whether words of count change a count: "all" and "typical" do not by themselves."""
    return finding.topic != "typical" or any(map(str.isdigit, finding.words))


def states_total(text: str, drafts: Sequence[Draft]) -> bool:
    """Whether a note says nothing but how many there are in all, and that is what the lines count."""
    said = _TOTAL.fullmatch(text.strip(" .:"))
    if said is None:
        return False
    kind = kind_of(said[2] or said[3] or "")
    counts = [d.values.get("quantity") for d in drafts if kind is None or d.values.get("kind", kind) == kind]
    return sum(count for count in counts if isinstance(count, int)) == int(said[1] or said[4])


def changes_lines(text: str) -> bool:
    """Whether a note that names no line says without a doubt that some are out of the work, or count otherwise."""
    findings = read_words(text).of(*ASKED)
    sure = [f for f in findings if not f.doubtful and f.topic not in HARDLY]
    if read_places(text).places and any(finding.topic in _ALIKE for finding in findings):
        return True  # South elevation similar: its openings stand in no line
    return bool(sure) or is_multiplier(read_places(text)) or bool(_OF_ALL.search(text) or size_in_note(text))
