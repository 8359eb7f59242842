#!/usr/bin/env python
"""The command line: `python manage.py estimate FILE`, `python manage.py start`, and Django's own commands."""

import os
import sys

from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line

from api.environment import take_data_folder


def main() -> None:
    """Runs the command that the arguments name; a wrong configuration ends with one sentence and status 2."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
    take_data_folder(sys.argv, os.environ)
    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as error:
        print(f"Not started: {error}", file=sys.stderr)
        sys.exit(2)


if __name__ == "__main__":
    main()
