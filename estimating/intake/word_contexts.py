"""What words mean beside others: an alternate colour is no alternate, screens by others are no opening by others.

Common practice, no source. English, German, French, Spanish.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from estimating.intake.folding import fold
from estimating.intake.phrases import Token

PARTS = frozenset(
    fold(
        "quantities dimensions "
        "screen screens blade blades paint painting painted painter finish finishes "
        "finishing stain stained glass "
        "glazing hardware hdw lock locks lockset locksets trim casing color colors colour colours blind blinds shade "
        "shades drapes curtains shutters film muntin muntins grille grilles handle handles closer closers "
        "weatherstrip weatherstripping signage decal keying insektenschutz fliegengitter farbe farben anstrich "
        "lackierung glas verglasung beschlag beschläge rollladen raffstore sonnenschutz peinture teinte couleur "
        "vitrage verre quincaillerie volet volets store stores moustiquaire pintura color acabado vidrio "
        "acristalamiento herrajes persiana persianas mosquitera toldo"
    ).split()
)  # parts of a window or door, and work on it, that its rough opening does not depend on
PRODUCTS = frozenset("material materials product products manufacturer manufacturers method methods".split())
_JOINING = frozenset("and & / + und u et y".split())
_BETWEEN = frozenset(
    "to be verified confirmed checked coordinated is are furnished supplied provided installed selected chosen "
    "approved specified as".split()
)
_FRACTION = r"(?:\d[ -])?\d{1,2}/\d{1,2}|\d?[¼½¾⅛⅜⅝⅞]"
_SMALL = re.compile(
    rf"(?<![\d/.,x'-])(?:\+\s*)?(?:(?:{_FRACTION}|[0-2](?:\.\d+)?)\s*(?:\"|''|in\b\.?)|(?:{_FRACTION})|\d{{1,2}}\s*mm\b)"
    r"\s*(?P<words>(?:on |at )?(?:each|ea\.?|all|both|either) (?:sides?|ways?|ends?))\b"
)
_FROM_EDGES = re.compile(
    rf"(?:{_FRACTION}|\d+(?:\.\d+)?)\s*(?:\"|''|'|(?:in|inch|inches|mm|cm|ft)\b\.?)\s*(?:in |back |clear )?"
    r"(?P<words>(?:off|from|at|on|past|beyond|over|above|below|of)\s+(?:the )?(?:each|every|all|both|either|ea\.?)\s+"
    r"(?:corner|side|end|jamb|edge)s?)\b"
)
_TRADE = frozenset(
    "trade trades contractor contractors contr sub subs subcontractor subcontractors supplier vendor installer "
    "fitter".split()
)
_NOT = frozenset("not nicht pas non never nie nunca hors fuera".split())


def is_of_a_part(tokens: Sequence[Token], at: int, behind: int, topic: str) -> bool:
    """Whether "by others" is said of a screen or a colour, or "alternate" and "optional" of one: not of the opening."""
    if topic == "by_others":
        before = at
        while before and tokens[before - 1].text in _BETWEEN:
            before -= 1
        part = before and tokens[before - 1].text in PARTS
        return bool(part) and not joined_to_more(tokens, before - 1)
    if topic == "alternate" and behind == at + 1:
        return any(token.text in PARTS | PRODUCTS for token in tokens[behind : behind + 2])
    return False


def joined_to_more(tokens: Sequence[Token], at: int) -> bool:
    """Whether a part is joined to something else that may be an opening: frames and glazing by others."""
    near = range(max(0, at - 2), at)
    return any(tokens[place].text in _JOINING and (place == 0 or tokens[place - 1].text not in PARTS) for place in near)


def allowances(folded: str) -> list[tuple[int, int]]:
    """Where "each side" stands behind a length, as 1/2" each side or 7" off each corner: no count of openings."""
    return [match.span("words") for pattern in (_SMALL, _FROM_EDGES) for match in pattern.finditer(folded)]


def by_trade(tokens: Sequence[Token], at: int) -> int | None:
    """The token behind "by <any> trade", by floor contractor or by stone sub; None elsewhere."""
    if tokens[at].text != "by":
        return None
    for place in range(at + 2, min(at + 5, len(tokens))):
        if tokens[place].text in _TRADE:
            return place + 1
        if not tokens[place].text.isalpha():
            return None
    return None


def radius_at(tokens: Sequence[Token], at: int, blot: str) -> int | None:
    """The token behind the R of a radius (R18, R=18, R 18", 36 in R); None where it is none."""
    if tokens[at].text != "r":
        return None
    after = at + 1
    if after < len(tokens) and tokens[after].text in ("=", ":"):
        return (
            after + 1
            if after + 1 < len(tokens) and (tokens[after + 1].number or tokens[after + 1].text == blot)
            else None
        )
    if after < len(tokens) and tokens[after].text == blot and tokens[after].start == tokens[at].end:
        return after
    lone = after == len(tokens) or tokens[after].text in (",", ";", ")")
    if at > 1 and lone and tokens[at - 1].text in ("in", "mm", "cm", "inch") and tokens[at - 2].number:
        return after
    return after if at and tokens[at - 1].text == blot and lone and not sized(tokens, at, blot) else None


def sized(tokens: Sequence[Token], at: int, blot: str) -> bool:
    """Whether a whole size stands before a token, not a single length: the R of a door's hand."""
    first = at
    while first and tokens[first - 1].text == blot:
        first -= 1
    return tokens[at - 1].end - tokens[first].start > 9


def negates_unknown(tokens: Sequence[Token], at: int) -> bool:
    """Whether a token negates the word behind it."""
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if after is None or len(after.text) < 4 or not after.text.isalpha():
        return False
    spanish = (
        tokens[at].text == "no" and re.search(r"(?:[ai]d|ist|ech|uest)[ao]s?$", after.text) is not None
    )  # no previsto
    return tokens[at].text in _NOT or spanish
