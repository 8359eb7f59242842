"""Constant header fields: the same as set one by one, and never in place of what an answer says itself."""

from __future__ import annotations

import pytest
from django.http import BadHeaderError, HttpResponse

from api.common_headers import Fields

FIELDS = {"X-Frame-Options": "DENY", "Content-Security-Policy": "default-src 'self'"}


def test_they_stand_as_if_set_one_by_one() -> None:
    one, other = HttpResponse(b"a"), HttpResponse(b"a")
    Fields(FIELDS).put_missing(one)
    for name, value in FIELDS.items():
        other.headers.setdefault(name, value)
    assert one.serialize_headers() == other.serialize_headers()
    assert one["x-frame-options"] == "DENY"
    del one["X-Frame-Options"]
    assert "X-Frame-Options" not in one


def test_what_the_answer_says_stays() -> None:
    answer = HttpResponse(headers={"x-frame-OPTIONS": "SAMEORIGIN"})
    fields = Fields(FIELDS)
    fields.put_missing(answer)
    assert answer["X-Frame-Options"] == "SAMEORIGIN"
    assert dict(fields.items()) == FIELDS


def test_no_line_breaks_get_in() -> None:
    with pytest.raises(BadHeaderError):
        Fields({"X-A": "b\r\nSet-Cookie: c"})
