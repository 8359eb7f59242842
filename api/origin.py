"""Where a request came from, also behind proxies: for limits by address, and for the audit."""

from __future__ import annotations

import ipaddress

from django.conf import settings
from django.http import HttpRequest


def address_of(request: HttpRequest) -> str:
    """The address that a request came from.

    With PROXIES trusted proxies before the service, each adds who asked it to the end of X-Forwarded-For: the address
    is as many entries from the end. What stands before that anybody may have written; without proxies, all of it.
    """
    return asked_from(str(request.META.get("REMOTE_ADDR", "")), request.META.get("HTTP_X_FORWARDED_FOR", ""))


def asked_from(peer: str, forwarded: str) -> str:
    """The address by the connection's other end and X-Forwarded-For."""
    if not settings.PROXIES:
        return peer
    passed = [entry.strip() for entry in forwarded.split(",")]
    if len(passed) < settings.PROXIES:
        return peer
    try:
        return str(ipaddress.ip_address(without_port(passed[-settings.PROXIES])))
    except ValueError:
        return peer


def without_port(entry: str) -> str:
    """The address of 192.0.2.1:80 or [2001:db8::1]:80; "" with a zone, which means something to its sender alone."""
    if "%" in entry:
        return ""
    if entry.startswith("["):
        return entry[1:].partition("]")[0]
    return entry.partition(":")[0] if entry.count(":") == 1 else entry
