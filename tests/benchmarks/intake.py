"""Schedules of 20,000 lines read, checked and stored in one request, and of 1,000,000 lines refused.

.venv/bin/python -m tests.benchmarks.intake: each file in a fresh process with a database of its own, wall and CPU time
of the request and the peak memory of the process. The files are invented: 20,000 lines of 2,000 marks on 30 storeys.
"""

from __future__ import annotations

import importlib
import io
import json
import os
import resource
import secrets
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence

import django
import xlsxwriter
from django.core.management import call_command

CASES = ("csv", "xlsx", "csv-million", "xlsx-million")
HEAD = ["Mark", "Qty", "Width (in)", "Height (in)", "Level", "Elevation", "Kind", "Access"]
AIMS = {"csv": "aim 2 s", "xlsx": "aim 5 s", "csv-million": "aim 2 s", "xlsx-million": "aim 2 s"}


def lines(count: int) -> Iterator[Sequence[object]]:
    """Invented lines, each mark at several places and always of one size."""
    for number in range(count):
        mark = number % 2_000
        place = number // 2_000
        yield [
            f"W{mark + 1}",
            1 + number % 7,
            20 + (mark % 400) / 8,
            30 + (mark % 300) / 4,
            f"Level {1 + place}",
            ("North", "South", "East", "West")[mark % 4],
            "window",
            ("ground", "lift")[place % 2],
        ]


def csv_file(count: int) -> bytes:
    """A CSV schedule."""
    return "\n".join(",".join(str(cell) for cell in row) for row in (HEAD, *lines(count))).encode()


def workbook_file(count: int) -> bytes:
    """A workbook."""
    held = io.BytesIO()
    with xlsxwriter.Workbook(held, {"constant_memory": True, "in_memory": True}) as book:
        sheet = book.add_worksheet("Windows")
        for place, row in enumerate((HEAD, *lines(count))):
            sheet.write_row(place, 0, row)
    return held.getvalue()


def measure(case: str) -> None:
    """One request in this process; prints its outcome as JSON."""
    django.setup()
    call_command("migrate", verbosity=0)
    cast = importlib.import_module("tests.cast")  # needs django.setup() before it
    api = cast.Api(cast.make_office().key)
    count = 1_000_000 if case.endswith("million") else 20_000
    is_book = case.startswith("xlsx")
    data = workbook_file(count) if is_book else csv_file(count)
    path = f"{api.post('/v1/projects', {'name': 'Invented'}).headers['Location']}/opening-schedules"
    media = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet" if is_book else "text/csv"
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    started, spent = time.perf_counter(), time.process_time()
    answer = api.send("POST", path, data, Content_Type=media)
    seconds, spent = time.perf_counter() - started, time.process_time() - spent
    after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    document = answer.json()
    outcome = document.get("lines") or [error["code"] for error in document.get("errors", [])] or document.get("title")
    print(json.dumps([answer.status_code, outcome, len(data), seconds, spent, before // 1024, after // 1024]))


def main() -> None:
    """All cases, one after another."""
    print(f"{'case':14}{'status':>7}{'bytes':>13}{'seconds':>9}{'of CPU':>9}{'MB before':>11}{'MB peak':>9}   outcome")
    for case in CASES:
        with tempfile.TemporaryDirectory() as folder:
            env = {**os.environ, "DATA_DIR": folder, "DJANGO_SETTINGS_MODULE": "api.settings"}
            env |= {"ALLOWED_HOSTS": "testserver", "SECRET_KEY": secrets.token_hex(32)}
            command = [sys.executable, "-m", "tests.benchmarks.intake", case]
            found = subprocess.run(command, env=env, capture_output=True, text=True, check=True)
        status, outcome, size, seconds, spent, before, peak = json.loads(found.stdout.splitlines()[-1])
        times = f"{seconds:>9.2f}{spent:>9.2f}"
        print(f"{case:14}{status:>7}{size:>13,}{times}{before:>11,}{peak:>9,}   {outcome} ({AIMS[case]})")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        measure(sys.argv[1])
    else:
        main()
