"""Words that name a kind of opening: English, German, French, Spanish. Common practice, no source."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence, Set
from functools import lru_cache
from itertools import takewhile

from estimating.intake.folding import compose, fold

KINDS = {
    "window": """
        window windows win wdw wdws wndw wind fixed casement csmt awning hopper slider sliding hung picture fenster
        festverglasung dachfenster fensterliste fensterplan fensterverzeichnis fenetre fenetres chassis ventana ventanas
        ventanal ventanales""",
    "door": """
        door doors dr drs entrance entry gate gates tur turen tuer tueren haustur eingangstur schiebetur turliste
        tuerliste turenliste torliste tor tore turverzeichnis porte portes puerta puertas portillo porton entr sidelite
        sidelites sidelight sidelights""",
    "louvre": """
        louvre louver louvres louvers louv lvr lvrs lamellen wetterschutzgitter zuluftgitter abluftgitter luftungsgitter
        grille grilles rejilla rejillas persienne""",
    "duct": "duct ducts ductwork luftkanal luftungskanal kanal gaine gaines conducto conductos",
    "pipe": """
        pipe pipes piping conduit conduits emt sleeve sleeves lineset cleanout standpipe rohr rohre leitung
        rohrdurchfuhrung kernbohrung tuyau tuyaux tube tubes traversee traversees fourreau fourreaux tuberia tuberias
        tubo tubos pasamuros
        pasatubos""",
    "other": "other others sonstige sonstiges autre autres otro otros",
}
# How a window or a door opens: of a line whose kind is known they name no other one
_OPENING = frozenset(
    "fixed casement csmt awning hopper slider sliding hung picture entrance entry entr gate gates".split()
)
# Before the name of an opening they tell of another one: above door, see door list, match window
_ANOTHER = frozenset(
    """above below over under at near next beside by see per with w match matches matching adjacent adj to from for no
    not without like between behind refer ref list schedule uber unter neben bei siehe nach wie gemass ohne dessus
    dessous sous sur voir pres selon sans comme sobre bajo ver junto segun sin como after before same as of next
    opposite flanking facing aligned align in on inside outside around against into along within where if when
    thick each ea every all any""".split()
)
_PLACED = frozenset("above below over under beside next near opposite inside outside adjacent behind".split())
_OF_ENGLISH = frozenset(
    """window windows win wdw wdws wndw wind door doors dr drs entrance gate gates sidelite sidelites sidelight
    sidelights louvre louver louvres louvers louv lvr lvrs grille grilles duct ducts ductwork pipe pipes piping conduit
    conduits emt sleeve sleeves lineset cleanout standpipe tube tubes""".split()
)
# Behind the noun of an English phrase they say no more than how its opening is made
_BEHIND = frozenset(
    """opening openings opng opngs unit units set sets assembly single double pair pr lh rh lhr rhr ext exterior int
    interior new typ only""".split()
)
_BARS = frozenset({"grille", "grilles"})  # of a window or a door as well
_AND = re.compile(r"[^\w\s'-]+|\s-+\s|\band\b|\bund\b|\bet\b|\by\b")
_WITH = re.compile(r"\bw/o?")
_OF_WORD = {word: kind for kind, words in KINDS.items() for word in words.split()}
_WORD = re.compile(r"[^\W\d_]+")
_PHRASES = {
    "pipe": re.compile(
        r"\b(?:line set|hose bibb?|vent pipe|clean out|(?:pvc|abs|cast iron) vent"
        r"|core(?:d hole|[ -]?(?:drill(?:ed)?|hole)))\b"
    ),
    "louvre": re.compile(r"\bgrille (?:de )?ventilation\b|\brejilla de ventilacion\b"),
    "duct": re.compile(r"\bgaine (?:de )?(?:ventilation|vmc)\b|\bdryer vent\b"),
    "door": re.compile(r"\bporte[ -]fenetre\b|\bportes[ -]fenetres\b"),
}
_NUMBER = re.compile(r"[\W_]*(?:\d+[a-z]?|(?<=[\W_])[a-z])$", re.IGNORECASE)
# The letters that marks of a list begin with where they tell kinds apart: W1, D1, L1
_LETTERS = {
    "window": frozenset(("w", "wd", "win")), "door": frozenset(("d", "dr")), "louvre": frozenset(("l", "lv", "lvr")),
}  # fmt: skip
_LETTERED = re.compile(r"([a-z]{1,3})[\W_]{0,3}\d", re.IGNORECASE)
_MOST_WORDS = 6  # of a description
_JOINED = (
    ("window", re.compile(r"[^\W\d_]{3,}fenster(?:n|element)?\b")),
    ("door", re.compile(r"[^\W\d_]{3,}(?:tür|tuer)(?:e?n)?\b")),
)


@lru_cache(maxsize=8192)
def kind_of(text: str) -> str | None:
    """The kind of opening that a cell, a sheet's name or a title names; None where it names none, or several."""
    folded = fold(compose(text))
    for kind, phrase in _PHRASES.items():
        if phrase.search(folded):
            return kind
    found = {_OF_WORD[word] for word in _WORD.findall(folded) if word in _OF_WORD}
    found |= {kind for kind, joined in _JOINED if joined.search(compose(text).lower())}
    if found == {"window", "door"} and "slid" in folded:
        found.discard("window")
    if len(found) > 1:
        found.discard("other")  # by others
    if found == {"pipe", "duct"}:
        return None
    return found.pop() if len(found) == 1 else None


@lru_cache(maxsize=8192)
def other_kind(text: str, kind: str) -> str | None:
    """A kind of opening that words name beside one that is known already; None for none, several and the same."""
    words = _WORD.findall(fold(compose(text)))
    named = kind_of(" ".join(word for word in words if word not in _OPENING))
    return named if named not in (kind, "other") else None


@lru_cache(maxsize=8192)
def described_kind(text: str, kind: str) -> str | None:
    """Another kind than the known one that words call the opening itself: HM door, single; None where they name none.

    The kind is the noun of its words (a door's hardware is no door), has no number of its own (door 101 is another
    opening), and no word beside it that tells of another opening (above door, per door list, louver above).
    """
    for part in _AND.split(_WITH.sub(" with ", compose(text).lower())):
        words = part.split()
        noun = list(takewhile(lambda word: fold(word) not in _ANOTHER, words))
        behind = set(words[len(noun) :])
        while noun and fold(noun[-1]) in _BEHIND:
            noun.pop()
        if noun and len(noun) <= _MOST_WORDS and not (behind and behind <= _PLACED):
            named = kind_of(" ".join(word for word in noun if fold(word) not in _OPENING))
            if named not in (None, kind, "other") and is_headed(noun, kind):
                return named
    return None


def kind_of_mark(mark: str, kind: str) -> str | None:
    """Another kind than the known one that the words of a mark name, its number or letter aside: Door 3, LOUVER A."""
    return described_kind(_NUMBER.sub("", mark), kind)


def letters_of(marks: Iterable[str]) -> frozenset[str]:
    """The letters before the numbers of marks."""
    found = (_LETTERED.match(mark) for mark in marks)
    return frozenset(one[1].lower() for one in found if one is not None)


def kind_of_letter(mark: str, kind: str, letters: Set[str]) -> str | None:
    """Another kind than that of a list, by a mark's letter: D1 among windows W1; no letter tells in a list A1 to D1."""
    mine = letters_of((mark,))
    if not letters & _LETTERS.get(kind, frozenset()):
        return None
    return next((other for other, own in _LETTERS.items() if other != kind and own & mine), None)


def is_headed(noun: Sequence[str], kind: str) -> bool:
    """Whether the noun of some words is a kind: their last one, in other languages than English the first as well."""
    said, first, last = " ".join(noun), fold(noun[0]), fold(noun[-1])
    if last in _BARS and kind in ("window", "door"):
        return False
    headed = last in _OF_WORD or (first in _OF_WORD and first not in _OF_ENGLISH)
    return headed or any(p.search(fold(said)) for p in _PHRASES.values()) or any(p.search(said) for _, p in _JOINED)


def tells_kind(text: str) -> bool:
    """Whether a cell of a few words names a kind of opening, and not one beside another opening."""
    before = takewhile(lambda word: word not in _OF_WORD, _WORD.findall(fold(compose(text))))
    return len(text.split()) < 4 and not _ANOTHER.intersection(before) and kind_of(text) is not None


def is_kind_alone(text: str) -> bool:
    """Whether a cell names a kind of opening and says nothing else."""
    words = _WORD.findall(fold(compose(text)))
    if any(phrase.fullmatch(" ".join(words)) for phrase in _PHRASES.values()):
        return True
    return bool(words) and not any(c.isdigit() for c in text) and all(word in _OF_WORD for word in words)
