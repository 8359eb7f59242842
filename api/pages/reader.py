"""How a person reads: numbers and dates as their browser's language has them, times in the company's zone."""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation
from functools import lru_cache
from zoneinfo import ZoneInfo

from django.http import HttpRequest
from django.utils import formats
from django.utils.translation import get_supported_language_variant

from rates.core.currencies import MINOR_DIGITS

DEFAULT = "en-us"
MONTH_FIRST = ("en-us", "en")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
NARROW = "\u202f"
LANGUAGES = 8  # looked at in the browser's list
NUMBERS = re.compile(r"(?<![\w.,/-])(?:(?:0|[1-9]\d*)\.\d+|[1-9]\d{4,})(?![\w/-]|[.,]\w)")
DAYS = re.compile(r"(?<![\w-])\d{4}-\d{2}-\d{2}(?![\w-])")
# Thousands as CLDR has them, where the framework's own table holds none for the language
GROUPS = {"en-us": ",", "en": ",", "en-gb": ",", "en-ca": ","}


@dataclass(frozen=True)
class Reader:
    """One person's way of reading."""

    language: str = DEFAULT
    zone: str = "UTC"
    decimal_mark: str = "."
    group_mark: str = ","

    def number(self, value: object, places: int | None = None) -> str:
        """A number with its thousands apart, with all its places or to so many; any other text as it is.

        A half goes away from zero, as everywhere that a figure is printed.
        """
        try:
            exact = Decimal(str(value))
        except InvalidOperation:
            return str(value)
        if not exact.is_finite():
            return str(value)
        if places is not None:
            exact = exact.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
        text = f"{exact:,f}"
        return text.translate({ord(","): self.group_mark, ord("."): self.decimal_mark}).replace("-", "\u2212")

    def at_least(self, value: str, places: int) -> str:
        """A number with all its places, and no fewer than so many; any other text as it is."""
        return self.number(value, places if len(value.partition(".")[2]) < places else None)

    def numbers_in(self, text: str) -> str:
        """A sentence with its decimal numbers, and whole ones of five figures or more, as the reader writes them.

        A whole number of four figures may be a year, and what touches a letter or a dash is a mark, a code or a date.
        """
        return NUMBERS.sub(lambda found: self.number(found[0]), text)

    def days_in(self, text: str) -> str:
        """A text with its days, kept as 2027-03-15, as the reader writes them."""
        return DAYS.sub(lambda found: self.date(found[0]), text)

    def money(self, value: object, currency: str = "") -> str:
        """An amount as it is, with all the places of its currency."""
        places = MINOR_DIGITS.get(currency)
        return self.number(value, places)

    def date(self, value: datetime.date | str | None) -> str:
        """A day with its month in letters: no order of figures can be misread."""
        if isinstance(value, str):
            written = value
            try:
                value = datetime.date.fromisoformat(written[:10])
            except ValueError:
                return written
        if value is None:
            return ""
        month = MONTHS[value.month - 1]
        if self.language in MONTH_FIRST:
            return f"{month} {value.day}, {value.year}"
        return f"{value.day} {month} {value.year}"

    def time(self, value: datetime.datetime | str | None, zone: str = "") -> str:
        """A time of day with its date and zone, the company's unless another is named."""
        if isinstance(value, str):
            value = datetime.datetime.fromisoformat(value)
        if value is None:
            return ""
        local = value.astimezone(ZoneInfo(zone or self.zone))
        clock = f"{local:%I:%M %p}".lstrip("0") if self.language in MONTH_FIRST else f"{local:%H:%M}"
        return f"{self.date(local.date())}, {clock} {local.tzname()}"


@lru_cache(maxsize=256)
def language_of(accepted: str) -> str:
    """The first language of the browser's list that numbers can be written in."""
    for part in accepted.lower().split(",")[:LANGUAGES]:
        try:
            return get_supported_language_variant(part.partition(";")[0].strip())
        except LookupError:
            continue
    return DEFAULT


@lru_cache(maxsize=256)
def make_reader(accepted: str, zone: str) -> Reader:
    """The reader of a browser's list of languages in a time zone."""
    language = language_of(accepted)
    group = GROUPS.get(language) or str(formats.get_format("THOUSAND_SEPARATOR", language, use_l10n=True))
    mark = str(formats.get_format("DECIMAL_SEPARATOR", language, use_l10n=True))
    return Reader(language, zone, mark, group.replace("\xa0", NARROW))


def reader_of(request: HttpRequest, zone: str = "UTC") -> Reader:
    """How the sender of a request reads."""
    return make_reader(request.META.get("HTTP_ACCEPT_LANGUAGE", "")[:200], zone)
