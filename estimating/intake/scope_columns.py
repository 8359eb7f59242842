"""Columns about scope: what a tick under their heading means, and what a cell that is no sentence says.

Common practice, no source. "In scope: x" puts a line in, "NIC: x" puts it out; under "Status" the words of the cell
count. A blank under a tick column is told as blank: whether it means the opposite of a tick is asked once for the
column.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from estimating.intake.folding import compose, fold
from estimating.intake.scope_words import Finding, read_remark, read_words

IN, OUT, WORDS = "in", "out", "words"
_TICKS = frozenset(
    (
        "x xx ✓ ✔ ✗ ✘ ☑ ☒ ● ○ • ■ √ v y yes yep true 1 t ja j wahr oui o vrai si s verdadero in inc "
        "incl included include tick checked *"
    ).split()
)
_CROSSES = frozenset("n no nope false 0 f nein falsch non faux not out excl excluded ☐ □".split())
_TWO_WAY = frozenset("✗ ✘ ☒ ○ o s v f *".split())  # a tick to some, a cross to others, or a letter of another language
_STATUS = {
    "e": "existing", "ex": "existing", "etr": "existing_to_remain", "n": "in_scope",
    "r": "relocate", "d": "demolition", "f": "future",
}  # fmt: skip


_IN = frozenset(
    "sealed seal treated treat flash flashing priced bid count scope quote quoted ours beauftragt enthalten".split()
)
_FRAMING = re.compile(r"\b(?:headers?|lintels?|studs?|trimmers?|beams?|king|jacks?)\b", re.IGNORECASE)
_MAKER = re.compile(r"\b(?:manufacturer|mfr|mfg|make|maker|supplier|vendor)\b", re.IGNORECASE)
_MADE_BY = re.compile(r"by (?:the )?(?:contractor|gc|manufacturer|mfr|mfg|supplier|vendor|fabricator)")
_BY = re.compile(r"by|checked|chk(?:'?d|\.)?|initials?|init\.?", re.IGNORECASE)
_INITIALS = re.compile(r"(?!EC|MC|PC|FC|LL|TT|OC|SC|DC|RC)[A-Z]\.?[A-Z]\.?(?:[A-Z]\.?)?")  # EC: a trade, as a rule
_AMOUNT = re.compile(
    r"(?:\w+\.?\s+)?(?:sf|sq\.?\s?ft|area|price|cost|amount)\.?(?:\s*\(.*\)|\s*/?\s*(?:ea|each|tot|total|per \w+)\.?)?"
    r"|jamb ext\.?"
    r"|rfi(?:\s*(?:no\.?|number|#|ref\.?))?"
)


@lru_cache(maxsize=1024)
def scope_of_heading(heading: str) -> tuple[Finding, ...]:
    """The words of scope in a heading; none where it is of areas and prices (SF is no storefront there)."""
    if _AMOUNT.fullmatch(" ".join(fold(compose(heading)).split())):
        return ()
    return read_words(heading).of("scope")


def is_of_heading(finding: Finding, heading: str) -> bool:
    """Whether words are of what a heading names, not of the opening: (2) 2x10 of a header, a maker by contractor."""
    if finding.topic == "bracketed":
        return _FRAMING.search(heading) is not None
    return finding.topic == "by_others" and bool(_MAKER.search(heading) and _MADE_BY.fullmatch(finding.words.lower()))


def holds_initials(heading: str, cells: Iterable[str]) -> bool:
    """Whether a column headed By says who wrote its lines, and no trade: initials of two or three letters alone."""
    filled = {cell.strip() for cell in cells} - {""}
    return _BY.fullmatch(heading.strip()) is not None and bool(filled) and all(map(is_initials, filled))


def is_initials(cell: str) -> bool:
    """Whether a cell may be a person's initials: capitals that no trade is known by (RS is no smoke door there)."""
    return _INITIALS.fullmatch(cell) is not None and not (
        {finding.topic for finding in read_remark(cell).of("scope", "plain")} - {"fire_rated"}
    )


@lru_cache(maxsize=1024)
def tick_means(heading: str) -> str:
    """What a tick under a heading says: "in" the work, "out" of it, or "words" where the cells speak for themselves."""
    heard = read_words(heading)
    scope = scope_of_heading(heading)
    both = any(finding.topic == "in_scope" for finding in heard.findings)
    if both and not scope:
        return IN
    if " ".join(fold(compose(heading)).split()).strip(" ?:.") in _IN:
        return IN
    out = [finding for finding in scope if finding.topic not in ("allowance", "hold")]
    return OUT if out and not both and "/" not in heading else WORDS


@lru_cache(maxsize=1024)
def read_tick(cell: str) -> tuple[str, bool]:
    """What a cell of a tick column says: "yes", "no", "blank" or "" (no tick), and whether it is two-way."""
    plain = fold(compose(cell)).strip(" .()[]")
    if plain in ("", "-", "--"):
        return "blank", plain != ""
    if plain in _TICKS:
        return "yes", plain in _TWO_WAY
    return ("no", plain in _TWO_WAY) if plain in _CROSSES else ("", False)


@lru_cache(maxsize=1024)
def read_status(cell: str) -> tuple[Finding, ...]:
    """What a cell of a status column says, its single letters with a doubt (E existing, N new, R, D, F)."""
    letter = fold(compose(cell)).strip(" .()[]")
    topic = _STATUS.get(letter)
    if topic is not None:
        return (Finding(topic, "plain" if topic == "in_scope" else "scope", cell.strip(), doubtful=letter != "etr"),)
    return read_words(cell).findings
