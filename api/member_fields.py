"""What is said of a member, as the API and the pages read it: field tables of an invitation and of a change."""

from __future__ import annotations

import re

from api.field_readers import as_given
from rates.core.fields import Field, Reader, Record, choice, clean_text, shown, text
from rates.core.problems import Unreadable
from rates.roles import Role

EMAIL = re.compile(r"[^@\s,;<>\"]{1,64}@[^@\s,;<>\"]{1,189}")


def parse_email(raw: object) -> str:
    """An address of electronic mail, in small letters; whether it reaches anybody is not asked."""
    value = clean_text(raw, 254).lower()
    if not EMAIL.fullmatch(value):
        raise Unreadable("not_an_address", f"an e-mail address is expected, not {shown(raw)}")
    return value


email = Reader(parse_email, {"type": "string", "format": "email", "maxLength": 254})
role = choice(*Role.values)
NEW_MEMBER = Record(
    as_given,
    (
        Field("name", text(200), "the person's name", required=True),
        Field("email", email, "the address that the person signs in with", required=True),
        Field("role", role, "what the person may do", required=True),
    ),
)
CHANGE_MEMBER = Record(as_given, (Field("name", text(200), "the person's name"), Field("role", role, "the role")))
