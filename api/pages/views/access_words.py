"""What the rates of a project say of each way to reach the work, for who answers how it is reached."""

from __future__ import annotations

import uuid

from api.pages.exchange import Visit
from rates.queries import choices
from rates.queries.access_terms import access_terms


def terms_of_access(visit: Visit, rate_book: uuid.UUID | None) -> dict[str, str]:
    """Access -> what the rates of the project say of it, in words; nothing for those who answer no question."""
    books = choices.pricing_books(company=visit.company) if visit.may("answers") else []
    book = next((one for one in books if one.id == rate_book), books[0] if books else None)
    if book is None:
        return {}
    day = max(visit.now.date(), book.first_day)
    found = access_terms(company=visit.company, rate_book=book.id, work_date=day, known_at=visit.now)
    words = {}
    for name, terms in found.items():
        more = f"{terms.percent.removeprefix('-')} % {'less' if terms.percent.startswith('-') else 'more'} time"
        said = [more if terms.percent else "no more time", f"up to {terms.up_to}" if terms.up_to else ""]
        words[name] = f": {', '.join(part for part in said if part)}"
    return words
