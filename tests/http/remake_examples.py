"""Makes api/rest/examples.json anew: python -m tests.http.remake_examples && python manage.py openapi"""

from __future__ import annotations

import os
import sys

import django
from django.db import connection
from django.test.utils import override_settings, setup_test_environment

HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


def main() -> None:
    """A day of an office on a database of its own, in memory, written down."""
    # what follows needs the framework ready
    from tests.cast import make_office  # noqa: PLC0415
    from tests.http.recording import examples, store  # noqa: PLC0415
    from tests.http.shell_lines import shell_lines  # noqa: PLC0415
    from tests.http.test_every_operation import work_a_day  # noqa: PLC0415

    setup_test_environment()
    connection.creation.create_test_db(verbosity=0)
    with override_settings(PASSWORD_HASHERS=HASHERS):
        sent = work_a_day(make_office())
    store(examples(sent, shell_lines(sent)))
    print(f"{len(sent)} requests", file=sys.stderr)


if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
    django.setup()
    main()
