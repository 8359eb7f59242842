"""The summary of an estimate with the framework's own negotiation and renderer in place of ours, alternating.

    python -m tests.benchmarks.hooks [--rounds 9] [--requests 150]

Microseconds of processor time for one answer in this process, the least of the rounds.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import tempfile
import time
from typing import Any

import django


def prepare() -> tuple[Any, str]:
    """A client, and the address of an estimate, in a new database."""
    os.environ |= {"DJANGO_SETTINGS_MODULE": "api.settings", "DATA_DIR": tempfile.mkdtemp(), "RATE_LIMIT": "1000000"}
    django.setup()
    from django.core.management import call_command  # noqa: PLC0415
    from django.test.utils import setup_test_environment  # noqa: PLC0415

    from tests.cast import Api, make_office  # noqa: PLC0415
    from tests.db.making import golden_request  # noqa: PLC0415

    setup_test_environment()  # the Host of its client is ours then
    call_command("migrate", verbosity=0)
    office = make_office()
    api = Api(office.key)
    return api, api.estimate(golden_request(office)).headers["Location"]


def ways() -> dict[str, tuple[Any, Any]]:
    """Checks before a view, and the writing of its answer: ours, the framework's negotiation, its renderer as well."""
    from rest_framework.negotiation import DefaultContentNegotiation  # noqa: PLC0415
    from rest_framework.renderers import JSONRenderer  # noqa: PLC0415
    from rest_framework.response import Response  # noqa: PLC0415

    from api.rest import address  # noqa: PLC0415

    view: Any = address.Address
    write, checks = vars(address)["write_answer"], view.initial

    def negotiate(self: Any, request: Any, *places: Any, **named: Any) -> None:
        self.format_kwarg = None
        request.accepted_renderer, request.accepted_media_type = self.perform_content_negotiation(request)
        checks(self, request, *places, **named)

    def render(*given: Any) -> Any:
        made = write(*given)
        fields = {name: value for name, value in made.headers.items() if name != "Content-Type"}
        return Response(json.loads(made.content), status=made.status_code, headers=fields)

    view.renderer_classes, view.content_negotiation_class = [JSONRenderer], DefaultContentNegotiation
    return {
        "ours": (checks, write),
        "the framework's negotiation": (negotiate, write),
        "and its renderer": (negotiate, render),
    }


def put(checks: Any, write: Any) -> None:
    """Puts the checks before a view and the writing of its answer in place."""
    module = sys.modules["api.rest.address"]
    setattr(module.Address, "initial", checks)  # noqa: B010
    setattr(module, "write_answer", write)  # noqa: B010


def main(arguments: list[str]) -> None:
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--rounds", type=int, default=9)
    options.add_argument("--requests", type=int, default=150)
    given = options.parse_args(arguments)
    api, path = prepare()
    fields = {"Authorization": f"Bearer {api.key}", "Accept": "application/json"}
    least: dict[str, float] = {}
    found = ways()
    for _ in range(given.rounds):
        for name, way in found.items():
            put(*way)
            start = time.process_time()
            for _ in range(given.requests):
                answer = api.client.get(path, headers=fields)
                assert answer.status_code == 200, answer.content
            spent = (time.process_time() - start) / given.requests
            least[name] = min(spent, least.get(name, spent))
    for name, spent in least.items():
        print(f"{name:28} {spent * 1e6:6.0f} µs  {spent / least['ours']:.2f}")


if __name__ == "__main__":
    main(sys.argv[1:])
