#!/usr/bin/env python
"""The command line: `python manage.py estimate FILE`, `python manage.py start`, and Django's own commands."""

import os
import signal
import sys

from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line
from django.db import DatabaseError

from api.environment import take_data_folder
from api.unavailable import is_unavailable, is_without_tables


def main() -> None:
    """Runs the command that the arguments name.

    A wrong configuration, a database that is away or can't be written, and one without its tables end with one sentence
    and status 2.
    """
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
    take_data_folder(sys.argv, os.environ)
    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as error:
        sentence = f"Not started: {error}"
    except (DatabaseError, OSError) as error:
        if is_without_tables(error):
            sentence = "Not done: the database has no tables yet, or old ones; run manage.py start, or migrate, first."
        elif is_unavailable(error):
            sentence = f"Not done: the database or the data folder can't be reached or written: {first_line(error)}."
        else:
            raise
    except KeyboardInterrupt:
        sys.exit(128 + signal.SIGINT)  # as a shell has it; whoever pressed Ctrl-C knows why
    else:
        return
    print(sentence, file=sys.stderr)
    sys.exit(2)


def first_line(error: Exception) -> str:
    """What an exception says, on one line."""
    return (str(error).strip().splitlines() or [type(error).__name__])[0].rstrip(".")


if __name__ == "__main__":
    main()
