"""Phrases found in the words of a cell: the longest one at each place, at word boundaries, in any spacing.

A phrase is written as words with `|` between alternatives and `?` behind what may be missing; `<n>` stands for a
number, `<id>` for a number, a single letter or both (with or without `#`), `<mark>` for letters and a number. Dots,
dashes, underscores and apostrophes between the words of a cell do not matter (N.I.C., half-round); a comma ends a
phrase.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import product

from estimating.intake.folding import fold

_TOKEN = re.compile(
    r"(?P<short>(?<![^\W_])w/(?:o\b|(?=\s|$|[a-z]{2})))"
    r"|(?P<dotted>(?<![^\W_])(?:[a-z]\.){2,}(?:[a-z](?![^\W_]))?)|(?P<word>[^\W\d_]+)"
    r"|(?P<number>\d+(?:[.,]\d+)*)"
    r"|(?P<skip>[\s._'-])|(?P<sign>.)",
    re.DOTALL,
)
_UMLAUTS = {"ä": ("a", "ae"), "ö": ("o", "oe"), "ü": ("u", "ue"), "ß": ("ß", "ss")}
NUMBER, NAME, MARK = "<n>", "<id>", "<mark>"
_PLACES = (NUMBER, NAME, MARK)


@dataclass(frozen=True, slots=True)
class Token:
    """A word, number or sign of a cell in plain form, and where it stands."""

    text: str
    start: int
    end: int
    number: bool = False


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a phrase means: its topic, the group of topics, and whether it is two-way by itself."""

    topic: str
    group: str
    doubtful: bool = False


class Node:
    """The phrases that begin alike: what may follow, and what is meant if it ends here."""

    __slots__ = ("meaning", "next")

    def __init__(self) -> None:
        self.next: dict[str, Node] = {}
        self.meaning: Meaning | None = None


def tokens_of(folded: str) -> list[Token]:
    """The words, numbers and signs of a folded text; dots, dashes and apostrophes between words are left out."""
    found = []
    for match in _TOKEN.finditer(folded):
        if match.lastgroup == "skip":
            continue
        text = re.sub("[./]", "", match[0]) if match.lastgroup in ("dotted", "short") else match[0]
        found.append(Token(text, match.start(), match.end(), match.lastgroup == "number"))
    return found


def spellings(word: str) -> tuple[str, ...]:
    """The plain forms of a word: ü as u and ue, ß as ß and ss, other accents left off."""
    parts = [_UMLAUTS.get(char, (char,)) for char in word.lower()]
    return tuple(dict.fromkeys(fold("".join(part)) for part in product(*parts)))


def sequences(phrase: str) -> Iterator[tuple[str, ...]]:
    """Every sequence of words that a written phrase stands for."""
    choices: list[tuple[str, ...]] = []
    for part in phrase.split():
        words = part.removesuffix("?") if len(part) > 1 else part
        chosen = tuple(form for word in words.split("|") for form in ((word,) if word in _PLACES else spellings(word)))
        choices.append((*chosen, "") if part.endswith("?") and len(part) > 1 else chosen)
    for chosen in product(*choices):
        joined = " ".join(word for word in chosen if word)
        yield tuple(token for word in joined.split() for token in split_word(word))


def split_word(word: str) -> tuple[str, ...]:
    """A word of a phrase as the tokens that a cell would have for it."""
    return (word,) if word in _PLACES else tuple(token.text for token in tokens_of(word))


def build(terms: Iterable[tuple[Meaning, str]]) -> Node:
    """The tree of all phrases; one with two meanings is a fault, unless both are plain."""
    root = Node()
    for meaning, text in terms:
        for phrase in filter(None, (part.strip() for part in re.split(r"[\n;]", text))):
            for words in sequences(phrase):
                node = root
                for word in words:
                    node = node.next.setdefault(word, Node())
                if node.meaning is not None and node.meaning.group == meaning.group == "plain":
                    continue  # which harmless topic it is makes no difference
                if node is root or node.meaning not in (None, meaning):
                    raise ValueError(f"{phrase!r} means {meaning} and {node.meaning}")
                node.meaning = meaning
    return root


def longest(root: Node, tokens: list[Token], at: int) -> tuple[int, Meaning, str] | None:
    """The longest phrase that begins at a token: the token behind it, its meaning, and the number or name in it."""
    best: tuple[int, Meaning, str] | None = None
    open_ends: list[tuple[Node, int, str]] = [(root, at, "")]
    while open_ends:
        node, place, name = open_ends.pop()
        if node.meaning is not None and (best is None or place > best[0]):
            best = (place, node.meaning, name)
        if place >= len(tokens):
            continue
        token = tokens[place]
        if token.text in node.next:
            open_ends.append((node.next[token.text], place + 1, name))
        if token.number and NUMBER in node.next:
            open_ends.append((node.next[NUMBER], place + 1, token.text))
        for kind in (NAME, MARK):
            if kind in node.next and (named := name_at(tokens, place, kind)):
                open_ends.append((node.next[kind], *named))
    return best


def name_at(tokens: list[Token], at: int, kind: str) -> tuple[int, str] | None:
    """The number, letter or mark at a token: the token behind it, and its text."""
    if tokens[at].text == "#" and at + 1 < len(tokens):
        at += 1
    token = tokens[at]
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if (
        token.text.isalpha()
        and len(token.text) <= 3
        and after
        and after.number
        and after.start - token.end <= (len(token.text) == 1)
    ):
        return at + 2, f"{token.text}{after.text}".upper()
    if kind == NAME and (token.number or (len(token.text) == 1 and token.text.isalpha())):
        return at + 1, token.text.upper()
    return None
