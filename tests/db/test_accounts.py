"""People of one address at once: each gets in by the own password, whoever came first."""

from __future__ import annotations

import threading
from datetime import UTC, datetime
from typing import Any

from django.db import connection

from rates.actions import accounts, people
from tests.cast import make_office

ANN = "ann@build.example"


def test_invitations_to_one_address_accepted_at_once(rules: None, settings: Any) -> None:
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.SIGN_IN_FAILURES = 100
    now = datetime.now(UTC)
    invited = {
        f"the jamb of office {n}": people.invite(
            company=make_office(f"Office {n}").company, name="Ann", email=ANN, role="sales", now=now
        )
        for n in range(6)
    }
    faults: list[Exception] = []

    def accept(password: str, invitation: str) -> None:
        try:
            assert accounts.accept(invitation=invitation, password=password, now=now) is not None
        except Exception as fault:
            faults.append(fault)
        finally:
            connection.close()

    threads = [threading.Thread(target=accept, args=(p, made.invitation)) for p, made in invited.items()]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert faults == []
    found = [accounts.sign_in(email=ANN, password=password, now=now) for password in invited]
    assert [len(who) for who in found] == [1] * 6
    assert len({who[0].person for who in found}) == 6
