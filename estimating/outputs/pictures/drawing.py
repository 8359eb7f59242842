"""Parts of a picture as SVG 1.1: texts, bars, lines; whole units, every text escaped, black on white with hatching."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

FONT = "Libertinus Serif, DejaVu Sans Mono, serif"
CHARACTER = 6  # units that a character of the small text is wide, about
HATCH = (
    '<defs><pattern id="less" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    '<rect width="6" height="6" fill="#fff"/><path d="M0 0V6" stroke="#222" stroke-width="2"/></pattern></defs>'
)
FULL, LESS, PART = "#444", "url(#less)", "#bbb"  # what adds, what takes away, a sum


def text(x: int, y: int, words: str, anchor: str = "start", strong: bool = False) -> str:
    """A text that starts, ends or is centred at a place."""
    weight = ' font-weight="bold"' if strong else ""
    return f'<text x="{x}" y="{y}" text-anchor="{anchor}"{weight}>{escape(words)}</text>'


def bar(x: int, y: int, width: int, height: int, fill: str) -> str:
    """A bar with an edge, so that the lightest still shows; at least one unit wide."""
    return f'<rect x="{x}" y="{y}" width="{max(1, width)}" height="{height}" fill="{fill}" stroke="#222"/>'


def line(x1: int, y1: int, x2: int, y2: int, width: int = 1) -> str:
    """A straight line."""
    return f'<path d="M{x1} {y1}L{x2} {y2}" stroke="#222" stroke-width="{width}" fill="none"/>'


def picture(width: int, height: int, title: str, words: str, parts: Iterable[str]) -> str:
    """The whole picture; title and words are read out instead of it."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}" '
        f'role="img" aria-label="{escape(title)}. {escape(words)}" font-family="{FONT}" font-size="12" fill="#111">'
        f"<title>{escape(title)}</title><desc>{escape(words)}</desc>{HATCH}{''.join(parts)}</svg>"
    )


def scaled(amount: int, most: int, units: int) -> int:
    """An amount as units of length, the greatest being `units`; 0 of nothing."""
    return amount * units // most if most else 0


def shorten(words: str, most: int) -> str:
    """Words of at most so many characters; the table behind has them whole."""
    return words if len(words) <= most else f"{words[: most - 1]}…"
