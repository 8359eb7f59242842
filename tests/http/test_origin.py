"""Where a request came from: the peer, or what trusted proxies say, never what the sender made up."""

from __future__ import annotations

from typing import Any

import pytest

from tests.cast import Api, Office

FORGED = "203.0.113.7"


def audited(api: Api, passed: str) -> str:
    """The address that the audit notes for a change sent with this X-Forwarded-For."""
    api.post("/v1/projects", {"name": "a"}, X_Forwarded_For=passed)
    return str(api.get("/v1/audit").json()["items"][-1]["address"])


@pytest.mark.parametrize(
    ("proxies", "passed", "address"),
    [
        (0, FORGED, "127.0.0.1"),
        (1, "198.51.100.4", "198.51.100.4"),
        (1, f"{FORGED}, 198.51.100.4", "198.51.100.4"),
        (2, f"{FORGED}, 198.51.100.4, 10.0.0.2", "198.51.100.4"),
        (1, "2001:DB8::1", "2001:db8::1"),
        (2, "10.0.0.2", "127.0.0.1"),
        (1, "", "127.0.0.1"),
        (1, "unknown", "127.0.0.1"),
        (1, "198.51.100.4:8080", "198.51.100.4"),
        (1, "[2001:db8::1]:443", "2001:db8::1"),
        (1, "[2001:db8::1]", "2001:db8::1"),
        (1, "fe80::1%" + "x" * 300, "127.0.0.1"),
        (1, "[", "127.0.0.1"),
        (1, "1:2", "127.0.0.1"),
        (1, "<script>" * 100, "127.0.0.1"),
    ],
)
def test_the_audit_notes_who_asked(
    api: Api, office: Office, settings: Any, proxies: int, passed: str, address: str
) -> None:
    settings.PROXIES = proxies
    assert audited(api, passed) == address


def test_wrong_keys_of_one_sender_shut_out_no_other_behind_the_same_proxy(
    api: Api, office: Office, settings: Any
) -> None:
    settings.PROXIES, settings.WRONG_KEYS_LIMIT = 1, 3
    stranger = Api("sw_nobody_" + "x" * 43)
    for _ in range(3):
        assert stranger.get("/v1/company", X_Forwarded_For=FORGED).status_code == 401
    assert stranger.get("/v1/company", X_Forwarded_For=f"1.2.3.4, {FORGED}").status_code == 429
    assert stranger.get("/v1/company", X_Forwarded_For="198.51.100.4").status_code == 401
