"""Amounts as customers read them: thousands parted, signs told."""

from __future__ import annotations

from rates.core.money import print_money


def print_amount(minor: int, currency: str) -> str:
    """1,655.00 for 165500 minor units of USD."""
    whole, point, rest = print_money(abs(minor), currency).partition(".")
    return f"{'−' if minor < 0 else ''}{int(whole):,}{point}{rest}"


def plain_amount(printed: str) -> str:
    """What `print_amount` gave as plain decimal text: 1655.00."""
    return printed.replace(",", "").replace("−", "-")


def print_signed(minor: int, currency: str) -> str:
    """An amount with its sign: +24.00, −3.50, 0.00."""
    return f"{'+' if minor > 0 else ''}{print_amount(minor, currency)}"
