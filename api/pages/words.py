"""What templates say things by: figures, dates, the trade's words. Built into the engine, so that none is loaded."""

from __future__ import annotations

import re
from itertools import islice
from typing import Any

from django import template
from django.template import Context
from django.utils.html import format_html

from api.pages.reader import Reader
from api.pages.static_files import FILES
from api.pages.trade_words import (
    WORDS,
    codes_in_words,
    in_sentence,
    in_words,
    place_words,
    places_in_brackets,
    value_words,
)
from estimating.core.figures.figure import word as spell
from estimating.outputs.site_documents import places_of
from rates.core.currencies import MINOR_DIGITS

AS_ABOVE = re.compile(r"as .* above")
register = template.Library()
PLAIN = Reader()
MOST_UNBROKEN = 24  # characters of a mark


def reader_in(context: Context) -> Reader:
    """How the person who looks at the page reads."""
    found = context.get("reader")
    return found if isinstance(found, Reader) else PLAIN


@register.simple_tag
def static_address(name: str) -> str:
    """The address of a file that pages bring along."""
    return FILES[name].address


@register.simple_tag(takes_context=True)
def number(context: Context, value: Any, places: int | None = None) -> str:
    """A number in the reader's way; nothing for None."""
    return "" if value is None else reader_in(context).number(value, places)


@register.simple_tag(takes_context=True)
def quantity(context: Context, value: Any, unit: str) -> str:
    """A quantity of a material as a yard reads it: whole things as they are counted, all else to a few places."""
    whole = unit == "each" and str(value).isdigit()
    return number(context, value) if whole else number(context, value, places_of(str(value)))


@register.simple_tag(takes_context=True)
def money(context: Context, value: Any, currency: str = "") -> str:
    """An amount in the reader's way."""
    return "" if value is None else reader_in(context).money(value, currency or context.get("currency") or "")


@register.simple_tag(takes_context=True)
def change(context: Context, value: Any) -> str:
    """An amount that is a change, with its sign."""
    text = money(context, value)
    return text if not text or text.startswith("\u2212") or not text.strip("0.,\u202f") else f"+{text}"


@register.simple_tag(takes_context=True)
def day(context: Context, value: Any) -> str:
    """A date in the reader's way."""
    return reader_in(context).date(value)


@register.simple_tag(takes_context=True)
def moment(context: Context, value: Any, zone: str = "") -> str:
    """A time in the reader's way, in a zone or that of the company."""
    return reader_in(context).time(value, zone)


@register.simple_tag(takes_context=True)
def printed(context: Context, value: str) -> str:
    """A value that a derivation prints, its number in the reader's way and its unit behind it."""
    figure, space, unit = str(value).partition(" ")
    currency = unit.partition("/")[0]
    return reader_in(context).at_least(figure, MINOR_DIGITS.get(currency, 0)) + space + WORDS.get(unit, unit)


@register.simple_tag(takes_context=True)
def sentence(context: Context, text: Any) -> str:
    """What a step or a line of a build-up says of itself, without codes and with numbers in the reader's way."""
    return reader_in(context).numbers_in(in_sentence(str(text)))


@register.simple_tag(takes_context=True)
def dated(context: Context, text: Any) -> str:
    """A text with its days in the reader's way."""
    return reader_in(context).days_in(str(text))


@register.filter
def word(value: Any) -> str:
    """The trade's words for a code, as a person reads them."""
    text = str(value)
    return WORDS.get(text, text.replace("_", " "))


@register.filter
def action_words(action: Any) -> str:
    """An operation's name as words: make-quote is make quote."""
    return str(action).replace("-", " ")


@register.filter
def field_words(path: Any) -> str:
    """The path of a field in a table as people count and say it: packs 1 price."""
    return " ".join(str(int(step) + 1) if step.isdigit() else step.replace("_", " ") for step in str(path).split("/"))


@register.filter
def answer_words(value: Any) -> str:
    """An answer with its codes as words."""
    return in_words(str(value))


@register.filter
def value_word(value: Any) -> str:
    """The value of a field of a line as the trade says it."""
    return value_words(value)


@register.filter
def place_word(place: Any) -> str:
    """A place of a file as people say it."""
    return place_words(place)


@register.filter
def written_words(written: Any) -> str:
    """How a value was written; what was taken from another line was not written at all."""
    text = str(written)
    return f"taken from {text.removeprefix('as ')}" if AS_ABOVE.fullmatch(text) else f"written: {text}"


@register.filter
def at_key(values: Any, key: Any) -> Any:
    """What a mapping holds under a key."""
    return values.get(key)


@register.filter
def in_places(sentence: Any) -> str:
    """A sentence with the places in brackets as people say them."""
    return places_in_brackets(str(sentence))


@register.filter
def places_in(sentence: Any, places: Any) -> str:
    """A sentence with the places that it is about as people say them."""
    text = codes_in_words(str(sentence))
    for place in sorted(map(str, places or ()), key=len, reverse=True):
        text = text.replace(place, place_words(place))
    return text


@register.filter
def unbroken(mark: Any) -> Any:
    """A mark as one word that no line ends within: P-03 would else be read as P- and 03; a long one may wrap."""
    text = str(mark)
    return format_html('<span class="t">{}</span>', text) if "-" in text and len(text) <= MOST_UNBROKEN else text


@register.filter
def capital(value: Any) -> str:
    """With a capital first letter."""
    text = str(value)
    return text[:1].upper() + text[1:]


@register.filter
def figure_word(code: Any) -> str:
    """A code as a step of a figure's name."""
    return spell(code)


@register.filter
def of(mapping: Any, key: Any) -> Any:
    """What a mapping holds under a key; nothing where it lacks it."""
    return mapping.get(key) if hasattr(mapping, "get") else None


@register.filter
def pairs(mapping: Any) -> list[tuple[Any, Any]]:
    """The names and values of a mapping, one of which may be called "items"."""
    return list(mapping.items()) if hasattr(mapping, "items") else []


@register.filter
def once_each(values: Any) -> list[Any]:
    """The values in their order, none twice."""
    return list(dict.fromkeys(values))


@register.filter
def beside(row: Any, columns: Any) -> list[tuple[Any, Any]]:
    """The cells of a row, each behind its column."""
    return list(zip(columns, row, strict=True))


@register.filter
def first_pairs(mapping: Any, count: int) -> list[tuple[Any, Any]]:
    """The first names and values of a mapping that may hold thousands."""
    return list(islice(mapping.items(), count))


@register.filter
def counted(count: int, words: str) -> str:
    """A count with its noun: 1 opening, 2 openings; `words` holds both, or the one that takes an s."""
    one, _, many = words.partition(",")
    return f"{count:,} {one if count == 1 else many or one + 's'}"
