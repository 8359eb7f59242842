"""A size as people write it, in a cell or in a remark: its dimensions, counts and basis, and what is left over.

Common practice, no source. Nothing is decided that the text doesn't decide: 24 x 18 has a first and a second
dimension, no width; a bare number stays bare; 3068 is four digits; the unit behind a pair is told beside the first
dimension, not put in.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from estimating.intake.folding import compose, fold
from estimating.intake.size_patterns import BARE, BASIS_WORDS, LETTERS, MASTER, ROLE_WORDS, SIDES, UNIT_TAIL

MOST = 300  # characters that are read; what stands behind is residue
SEPARATORS = " .,;:=|()[]{}-_&+"  # signs that say nothing by themselves


@dataclass(frozen=True, slots=True)
class Dimension:
    """One dimension as written, and what it is of.

    role: width, height, first, second, third (of a x b x c where no letter says which), diameter, outside_diameter,
    inside_diameter, radius, nominal_pipe, springline, rise, sill_height, head_height, overall_height, thickness, depth,
    length (a unit but no word), bare (neither), four_digits (3068, or 3068 of some unit).
    unit: the unit that stands only behind the other dimension of the pair, blank where there is none.
    """

    role: str
    text: str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Times:
    """A count in a size text: how is brackets, times, pairs or each; pairs 1 where only PR stands."""

    how: str
    count: int
    text: str


@dataclass(frozen=True, slots=True)
class SizeText:
    """All that a size text says. consumed: every piece that was understood, in order; residue: all the rest."""

    dimensions: tuple[Dimension, ...] = ()
    counts: tuple[Times, ...] = ()
    basis: tuple[str, ...] = ()
    residue: str = ""
    consumed: tuple[str, ...] = ()

    def get(self, role: str) -> str:
        """The text of a dimension, blank where the role is absent or there more than once."""
        found = [dimension.text for dimension in self.dimensions if dimension.role == role]
        return found[0] if len(found) == 1 else ""


Part = Dimension | Times | str  # a str is a basis


@lru_cache(maxsize=20_000)
def read_size_text(text: str) -> SizeText:
    """The dimensions, counts and basis that a text names."""
    plain = compose(text)
    folded = fold(plain[:MOST])
    parts: list[tuple[int, int, list[Part]]] = []
    for match in MASTER.finditer(folded):
        found = list(read_match(match, plain))
        if found:
            parts.append((match.start(), match.end(), found))
    spans = [(start, end) for start, end, _ in parts]
    bare = [
        match.span()
        for match in BARE.finditer(folded)
        if not any(a < match.end() and match.start() < b for a, b in spans)
    ]
    if bare and not left_over(plain, [*spans, *bare]):
        parts += [(start, end, [read_bare(plain[start:end].strip())]) for start, end in bare]
        spans += bare
    parts.sort(key=lambda part: part[0])
    flat = [part for _, _, found in parts for part in found]
    return SizeText(
        tuple(part for part in flat if isinstance(part, Dimension)),
        tuple(part for part in flat if isinstance(part, Times)),
        tuple(dict.fromkeys(part for part in flat if isinstance(part, str))),
        left_over(plain, spans),
        tuple(plain[start:end].strip() for start, end, _ in parts),
    )


def read_match(match: re.Match[str], plain: str) -> Iterator[Part]:
    """What one stretch of the text says."""
    kind = match.lastgroup or ""

    def text(group: str) -> str:
        return plain[match.start(group) : match.end(group)].strip() if match.start(group) >= 0 else ""

    if kind == "pair":
        yield from read_pair(match, text)
    elif kind == "basis":
        yield next(basis for basis, pattern in BASIS_WORDS if pattern.fullmatch(match["basis"].strip(" .()")))
    elif kind in ("brackets", "times", "each"):
        yield Times(kind, int(match[f"{kind}_n"]), text(kind))
    elif kind == "pairs":
        yield Times("pairs", int(match["pairs_n"] or match["pairs_b"] or 1), text(kind))
    elif kind in ("before", "after"):
        word = match[f"{kind}_word"].strip(" :=@")
        role = LETTERS.get(word) or next(role for role, pattern in ROLE_WORDS if pattern.fullmatch(word))
        yield Dimension(role, text(f"{kind}_length"))
    elif kind == "nominal":
        yield Dimension("nominal_pipe", text("nominal"))
    elif kind == "alone":
        yield Dimension("length", text("alone"))


def read_pair(match: re.Match[str], text: Callable[[str], str]) -> Iterator[Part]:
    """Two or three dimensions with times signs between them; a bare first of three that have units is a count."""
    lengths = [text(name) for name in ("first", "second", "third") if text(name)]
    sides = [
        next(
            (
                side
                for side, words in SIDES.items()
                if (match[f"{name}_pre"] or match[f"{name}_post"] or "").strip(" .:=()") in words
            ),
            "",
        )
        for name in ("first", "second", "third")[: len(lengths)]
    ]
    if (
        len(lengths) == 3
        and BARE.fullmatch(lengths[0])
        and lengths[0].isdigit()
        and not any(map(BARE.fullmatch, map(fold, lengths[1:])))
    ):
        yield Times("times", int(lengths.pop(0)), text("first"))
        sides.pop(0)
    shared = UNIT_TAIL.search(fold(lengths[-1]))
    unit = shared[0].strip() if shared else ""
    if sides.count("") == 1 and len(lengths) == 2:
        known = next(side for side in sides if side)
        sides[sides.index("")] = {"width": "height", "height": "width"}.get(known, "")
    for place, (side, length) in enumerate(zip(sides, lengths, strict=True)):
        role = side or ("first", "second", "third")[place]
        yield Dimension(role, length, unit if place < len(lengths) - 1 and BARE.fullmatch(fold(length)) else "")


def read_bare(text: str) -> Dimension:
    """A number without a unit or a word."""
    return Dimension("four_digits" if len(text) == 4 and text.isdigit() else "bare", text)


def left_over(plain: str, spans: list[tuple[int, int]]) -> str:
    """What stands outside the spans, without the signs around it."""
    pieces, behind = [], 0
    for start, end in [*sorted(spans), (len(plain), len(plain))]:
        pieces.append(" ".join(plain[behind:start].split()).strip(SEPARATORS))
        behind = max(behind, end)
    return " ".join(piece for piece in pieces if piece)
