"""What the words of a cell say about scope, shape and count, and which words were not understood.

text > references and sizes set apart > longest phrases of the vocabulary > negations and doubts > findings, residue

Nothing vanishes: what is in no finding is residue, save the signs and dashes between words. Sizes and lengths are
residue here (size_words reads them). What could be read in two ways is heard, with `doubtful`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from estimating.intake.doubtful_scope_terms import ALONE, DOUBTFUL
from estimating.intake.folding import compose, fold
from estimating.intake.method_terms import METHOD
from estimating.intake.number_terms import COUNT, COUNT_DOUBTFUL, DELTA
from estimating.intake.phrases import Meaning, Node, Token, build, longest, tokens_of
from estimating.intake.plain_terms import GUARDS, PLAIN
from estimating.intake.scope_terms import SCOPE
from estimating.intake.shape_terms import SHAPE, SHAPE_DOUBTFUL
from estimating.intake.word_contexts import allowances, by_trade, is_of_a_part, negates_unknown, radius_at

MOST = 1_000  # characters that are read; what stands behind is residue
BLOT = "\x00"  # stands for a character that no phrase may see
ASKED = ("scope", "shape", "count")  # groups that a price must wait for
SEPARATORS = " .,;:/|()[]{}-_&+*!?"  # signs between words that say nothing by themselves
_LENGTH = (
    r"(?<![\d.,])(?:\d+(?:[.,]\d+)?(?:[ -]\d+/\d+)?|\d+/\d+|[¼½¾⅛⅜⅝⅞⅓⅔])\s*(?:'-?\s?(?:\d+(?:[ "
    r"-]?\d+/\d+|[¼½¾⅛⅜⅝⅞])?\s*(?:\"|'')?)?|\"|''|mm\b|cm\b|m\b|in\b(?!\s+[a-z])\.?|ft\b\.?"
    r"|inch(?:es)?\b|feet\b|foot\b)"
)
_SIZE = re.compile(
    rf"(?:{_LENGTH}\s*(?:[wh]\b\.?)?|\b\d+(?:[.,/-]\d+)?)\s*(?:x|\bby\b)\s*(?:{_LENGTH}"
    rf"|\d+(?:[.,/-]\d+)?)(?:\s*[wh]\b)?(?:\s*x\s*\d[\d /.,-]*(?:mm|\"|')?)*"
    rf"|{_LENGTH}|ø\s*\d[\d./-]*|\bdn\s*\d+|\bnps\s*\d+(?:[ -]\d+/\d+|/\d+)?"
)
_REFERENCE = re.compile(
    r"\b(?:typ(?:ical)?\b\.?|see|per|ref|refer to|siehe|gem\.?|lt\.?|voir|selon|ver"
    r"|segun)?\s*(?:details?|dtl|det|dwgs?|drawings?|sheets?|plans?|spec(?:s|tion)?|"
    r"sections?|sect|key ?notes?|plano|detalle|coupe|zeichnung)\b\.?\s*(?:no\.?\s*|nr\.?\s*"
    r"|#\s*)?(?:[a-z]{0,3}-?\d[\w.]*(?:\s?[/-]\s?[a-z]{0,3}-?\d[\w.]*)?)"
    r"|\b\d{1,2}\s?/\s?[a-z]{1,2}-?\d[\d.]*\b|\b(?:see|per|siehe|voir|ver)\s+[a-z]{1,2}-?(?:\d{3,}[\w.]*|\d+\.\d+)"
    r"|\b(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?"
    r"|nov(?:ember)?|dec(?:ember)?)\b\.?\s\d{1,4}\b(?:,?\s\d{4}\b)?"
    r"|\b\d{1,2}[/.]\d{1,2}[/.](?:\d{4}|\d{2})\b|\b\d{4}-\d{2}-\d{2}\b"
)
_NEGATORS = frozenset(
    "wo no not non never without nor kein keine keinen keiner nicht ohne nie pas sans ni sin nunca ningun".split()
)
_DOUBTERS = frozenset("or oder ou if falls wenn si whether ob unless maybe vielleicht".split())
_DELETED_BESIDE = frozenset("per by in w with see from add rev window door opening mark".split())
_STEMS = (
    ("scope", "existing", r"^bestands|^altbestand|existant"),
    ("scope", "fire_rated", r"brandschutz|feuerhemm|feuerbest|rauchschutz|firerat"),
    ("scope", "interior", r"^innen(?!seit)"),
    ("scope", "by_others", r"bauseit|fremdgewerk"),
    ("scope", "spare", r"attrappe|^muster|^blind(?:fenster|tur)"),
    (
        "scope",
        "apart",
        r"curtainwall|storefront|skylight|vorhangfassad|lichtkuppel|^dachfenster|^dachflachen|sektionaltor",
    ),
    ("scope", "alternate", r"^(?:eventual|bedarfs|alternativ|wahl|zulage)pos"),
    ("scope", "future", r"^(?:zukunft|kunftig|spater)"),
    ("shape", "gothic", r"spitzbog"),
    ("shape", "segmental_top", r"(?:stich|segment|flach)bog"),
    ("shape", "half_round_top", r"rundbog|halbrund|halbkreis|halfround"),
    ("shape", "arch", r"bogen|korbbog"),
    ("shape", "triangle", r"dreieck|triang"),
    ("shape", "trapezoid", r"trapez"),
    ("shape", "raked", r"^schrag|schragfenster"),
    ("shape", "octagon", r"achteck|octog|octag"),
    ("shape", "ellipse", r"^oval|ellips|ellipt"),
    ("shape", "round", r"^rund(?:fenst|off|ver)|kreisrund|circular"),
    ("count", "ganged", r"gekoppel|koppel|fensterband"),
)
_DECIMAL = re.compile(r"[.,]\d*[1-9]")  # a level such as +0,90, no count
_SEALING = re.compile("seal|flash|caulk|abdicht|etanch|sell|calfeutr")
_STEM = re.compile("|".join(f"(?P<s{index}>{stem})" for index, (_, _, stem) in enumerate(_STEMS)))


Match = tuple[int, int, Meaning, str, bool]  # start, end, meaning, name, doubtful


@dataclass(frozen=True, slots=True)
class Finding:
    """Words of a cell that mean something: what, in which group of topics, and the number or name beside them.

    doubtful: the words can also be read as no such thing (negated, "or", two-way by themselves).
    """

    topic: str
    group: str
    words: str
    name: str = ""
    doubtful: bool = False


@dataclass(frozen=True, slots=True)
class Heard:
    """All that a text says, in its order, and the words that were not understood."""

    findings: tuple[Finding, ...] = ()
    residue: str = ""

    def of(self, *groups: str) -> tuple[Finding, ...]:
        """The findings of some groups."""
        return tuple(finding for finding in self.findings if finding.group in groups)

    @property
    def asked(self) -> tuple[Finding, ...]:
        """The findings that a price must wait for: all of these groups but a plain rectangle."""
        return tuple(finding for finding in self.of(*ASKED) if finding.topic != "rectangle")


@lru_cache(maxsize=1)
def vocabulary() -> Node:
    """Every phrase that is understood."""
    groups = (("scope", SCOPE, False), ("shape", SHAPE, False), ("count", COUNT, False), ("delta", DELTA, False),
              ("method", METHOD, False), ("plain", GUARDS, False), ("plain", PLAIN, False),
              ("scope", DOUBTFUL, True), ("shape", SHAPE_DOUBTFUL, True), ("count", COUNT_DOUBTFUL, True))  # fmt: skip
    return build(
        (Meaning(topic, group, doubtful), text) for group, terms, doubtful in groups for topic, text in terms.items()
    )


@lru_cache(maxsize=20_000)
def read_words(text: str) -> Heard:
    """What the words of a cell, a heading, a section title or a note say."""
    plain = compose(text)
    folded = fold(plain[:MOST])
    if folded.strip(" -") and not folded.strip(" -'\""):
        return Heard((Finding("ditto", "count", plain.strip()),))
    spans, rest = set_apart(folded)
    found = [(*span, Meaning("reference", "plain"), "", False) for span in spans]
    found = sorted(found + match_phrases(tokens_of(rest), rest), key=lambda one: one[0])
    findings = [Finding(said.topic, said.group, plain[start:end], name, doubtful or said.doubtful)
                for start, end, said, name, doubtful in found]  # fmt: skip
    for at, (one, after) in enumerate(pairwise(findings)):
        if after.topic == "alternate" and one.topic == "exception" and one.words.lower() == "part of":
            findings[at] = replace(one, topic="function", group="plain")  # W6 is part of Alternate No. 2: no part of W6
    return Heard(tuple(findings), left_over(plain, [(start, end) for start, end, *_ in found]))


@lru_cache(maxsize=1)
def alone() -> Node:
    """The phrases that say something as the whole of a remark only."""
    return build((Meaning(topic, "scope", True), text) for topic, text in ALONE.items())


@lru_cache(maxsize=20_000)
def read_remark(text: str) -> Heard:
    """What a cell of remarks says: a trade alone says whose work it is, where a room's name would say nothing."""
    plain = compose(text)
    tokens = tokens_of(fold(plain[:MOST]))
    whole = longest(alone(), tokens, 0) if tokens and tokens[-1].end <= MOST else None
    if whole is None or whole[0] < len(tokens):
        return read_words(text)
    said = Finding(whole[1].topic, "scope", plain[tokens[0].start : tokens[-1].end], whole[2], True)
    return Heard((said,), left_over(plain, [(tokens[0].start, tokens[-1].end)]))


def match_phrases(tokens: list[Token], rest: str) -> list[Match]:
    """The longest phrases, one behind the other, each with the negation before it."""
    found: list[Match] = []
    at, free = 0, 0  # free: the first token that no phrase has taken
    while at < len(tokens):
        best = (dotted(tokens[at], at) or radius_of(tokens, at) or longest_or_trade(tokens, at)
                or stem_of(tokens[at], at) or unknown_negated(tokens, at))  # fmt: skip
        if (
            best is None
            or cuts_size(tokens, at, best[0], rest, best[1].group == "count")
            or (best[1].group == "count" and _DECIMAL.search(best[2]))
        ):
            at += 1
            continue
        behind, meaning, name = best
        if is_of_a_part(tokens, at, behind, meaning.topic):
            meaning = Meaning("part", "plain")
        if meaning.topic == "author":
            behind = behind_name(tokens, behind)
        if tokens[at].text == "del" and behind == at + 1 and is_article(tokens, at):
            meaning = Meaning("function", "plain")
        if meaning.topic == "partly":  # 2 existing: the 2 is a count, "existing" is heard for itself
            inner = longest(vocabulary(), tokens, at + 1)
            behind = at + 1 if inner is not None and inner[1].group == "scope" else behind
        first = negator_before(tokens, at, free)
        if first < at and (meaning.topic == "in_scope" or _SEALING.match(tokens[at].text)):  # not included, not sealed
            meaning = Meaning("not_in_contract", "scope", True)
        doubtful = meaning.group in ASKED and (first < at or doubted(tokens, at, behind, rest))
        found.append((tokens[first].start, tokens[behind - 1].end, meaning, name, doubtful))
        at = free = behind
    return found


def longest_or_trade(tokens: list[Token], at: int) -> tuple[int, Meaning, str] | None:
    """The longest phrase at a token, unless "by <any> trade" goes further."""
    best, behind = longest(vocabulary(), tokens, at), by_trade(tokens, at)
    return best if behind is None or (best and best[0] >= behind) else (behind, Meaning("by_others", "scope", True), "")


def radius_of(tokens: list[Token], at: int) -> tuple[int, Meaning, str] | None:
    """An R beside a length (R18", R=18, 36 in R): the radius of an arch, as a rule."""
    behind = radius_at(tokens, at, BLOT)
    return (behind, Meaning("arch", "shape", True), "") if behind else None


def unknown_negated(tokens: list[Token], at: int) -> tuple[int, Meaning, str] | None:
    """A negation before a word that is not known: what is not done may be our work."""
    if not negates_unknown(tokens, at) or longest(vocabulary(), tokens, at + 1) or stem_of(tokens[at + 1], at + 1):
        return None
    return at + 2, Meaning("not_in_contract", "scope", True), ""


def behind_name(tokens: list[Token], at: int) -> int:
    """The token behind the name, of two words at most, of who drew or checked a sheet: R. Sample is no sample."""
    for place in range(at, min(at + 2, len(tokens))):
        said = longest(vocabulary(), tokens, place)
        heard = said is not None and said[1].group in ASKED and said[1].topic != "spare"
        if heard or not tokens[place].text.isalpha() or tokens[place].start - tokens[place - 1].end > 2:
            return place
    return min(at + 2, len(tokens))


def dotted(token: Token, at: int) -> tuple[int, Meaning, str] | None:
    """What an abbreviation means that is a word of its own without its dots (s.o.: siehe oben, sans objet)."""
    if token.text != "so" or token.end - token.start < 3:
        return None
    return at + 1, Meaning("ditto", "count", True), ""


def stem_of(token: Token, at: int) -> tuple[int, Meaning, str] | None:
    """What a long word means that is written together, as German does (Bestandsfenster)."""
    match = _STEM.search(token.text) if len(token.text) > 7 else None
    if match is None or match.lastgroup is None:
        return None
    group, topic, _ = _STEMS[int(match.lastgroup[1:])]
    return at + 1, Meaning(topic, group), ""


def cuts_size(tokens: list[Token], at: int, behind: int, rest: str, counts: bool) -> bool:
    """Whether a phrase would take the sign out of a size (24 x 18), "by" from between numbers, a letter off a mark."""
    before = tokens[at - 1] if at else None
    after = tokens[behind] if behind < len(tokens) else None
    if at == 0 and tokens[0].number and behind > 1 and rest[tokens[0].end :].startswith((". ", ") ")) and counts:
        return True  # 1. or 1) at the beginning numbers a note
    if behind == at + 1 and len(tokens[at].text) <= 2 and tokens[at].text.isalpha():
        if after is not None and after.number and after.start == tokens[at].end and tokens[at].text != "x":
            return True  # the letter of a mark (W3), no word
    number_before = before is not None and (before.number or before.text == BLOT)
    number_after = after is not None and (after.number or after.text == BLOT)
    first, last = tokens[at].text, tokens[behind - 1].text
    return (
        (first == "x" and number_before) or (last == "x" and number_after) or (first == last == "by" and number_before)
    )


def is_article(tokens: list[Token], at: int) -> bool:
    """Whether "del" is the Spanish word between two others, not DEL for deleted."""
    beside = tokens[at - 1 : at] + tokens[at + 1 : at + 2] if at else []
    return len(beside) == 2 and all(token.text.isalpha() and token.text not in _DELETED_BESIDE for token in beside)


def negator_before(tokens: list[Token], at: int, free: int) -> int:
    """The token at which a negation of a phrase begins, the phrase's own first token where it has none."""
    return next((place for place in (at - 1, at - 2) if place >= free and tokens[place].text in _NEGATORS), at)


def doubted(tokens: list[Token], at: int, behind: int, rest: str) -> bool:
    """Whether a question mark follows a phrase, or "or" or "if" stands beside it."""
    beside = {tokens[at - 1].text if at else "", tokens[behind].text if behind < len(tokens) else ""}
    return bool(beside & _DOUBTERS) or rest[tokens[behind - 1].end :].lstrip(" ()").startswith("?")


def set_apart(folded: str) -> tuple[list[tuple[int, int]], str]:
    """Where references to drawings stand, and the text with these and the sizes blotted out."""
    spans = [match.span() for match in _REFERENCE.finditer(folded)] + allowances(folded)
    chars = list(folded)
    for start, end in spans:
        chars[start:end] = BLOT * (end - start)
    for match in _SIZE.finditer("".join(chars)):
        chars[match.start() : match.end()] = BLOT * (match.end() - match.start())
    return spans, "".join(chars)


def left_over(plain: str, taken: list[tuple[int, int]]) -> str:
    """The words of a text outside the spans, without the signs around them."""
    pieces, behind = [], 0
    for start, end in [*sorted(taken), (len(plain), len(plain))]:
        pieces.append(" ".join(plain[behind:start].split()).strip(SEPARATORS))
        behind = max(behind, end)
    return " ".join(piece for piece in pieces if piece)
