"""At least 300 hostile and broken schedule files, made anew: python -m tests.intake.hostile FOLDER writes them.

Names say what each is; the same seed gives the same files. None is kept in the repository.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from tests.intake.hostile_models import models
from tests.intake.hostile_packages import packages
from tests.intake.hostile_texts import texts
from tests.intake.hostile_types import types
from tests.intake.hostile_workbooks import books

File = tuple[str, bytes]


def corpus(*, with_models: bool = True) -> Iterator[File]:
    """(name, bytes) of each file."""
    yield from types()
    yield from texts()
    yield from packages()
    yield from books()
    if with_models:
        yield from models()


def main(folder: Path) -> None:
    """Writes the files."""
    folder.mkdir(parents=True, exist_ok=True)
    count = 0
    for name, data in corpus():
        (folder / name).write_bytes(data)
        count += 1
    print(f"{count} files in {folder}")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
