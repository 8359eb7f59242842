"""The first request imports nothing: imported while the disk is full, a module's compiled half would stay.

Python writes what it has compiled beside the source; a file cut short there fails in every later process.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
ASK = """
import sys
from django.core.management import call_command
from django.test import Client
from django.test.utils import setup_test_environment
call_command("migrate", verbosity=0)
setup_test_environment()
client = Client()
there = set(sys.modules)
for path in ("/healthz", "/sign-in", "/v1/projects", "/nowhere"):
    client.get(path)
print("imported:", *sorted(name for name in set(sys.modules) - there if not name.startswith("encodings.")))
"""


SERVED = "import api.wsgi"
PLAIN = "from django.core.wsgi import get_wsgi_application; get_wsgi_application()"  # the control


@pytest.mark.parametrize(("start", "imports_nothing"), [(SERVED, True), (PLAIN, False)])
def test_the_first_request_imports_nothing(start: str, imports_nothing: bool, tmp_path: Path) -> None:
    environment = {"DJANGO_SETTINGS_MODULE": "api.settings", "DATA_DIR": str(tmp_path), "PATH": ""}
    command = [sys.executable, "-c", f"{start}\n{ASK}"]
    answer = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=True)
    (line,) = [line for line in answer.stdout.splitlines() if line.startswith("imported:")]
    assert (line.split()[1:] == []) is imports_nothing, line[:2000]
