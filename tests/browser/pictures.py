"""Pictures of every page and state: `python -m tests.browser.pictures FOLDER`; `--readme` remakes those of README."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from tests.browser.chromium import HERE
from tests.browser.office import opened
from tests.browser.prepared import prepare
from tests.browser.states import addresses

WIDTHS, SCHEMES = (360, 768, 1280, 1920), ("light", "dark")
README = {"estimate": (960, 900), "question": (960, 720)}  # name -> width and height of the part that is shown


def main(arguments: Sequence[str]) -> int:
    """Writes the pictures; the exit status."""
    if len(arguments) != 1:
        print(__doc__, file=sys.stderr)
        return 2
    readme = arguments[0] == "--readme"
    folder = HERE / "shown" if readme else Path(arguments[0])
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch, opened(Path(scratch) / "data") as office:
        for name, role, address in list(addresses(prepare(office))):
            if readme and name not in README:
                continue
            with office.person(role) as page:
                for width in (README[name][0],) if readme else WIDTHS:
                    page.set_viewport_size({"width": width, "height": README[name][1] if readme else 900})
                    for scheme in SCHEMES[:1] if readme else SCHEMES:
                        page.emulate_media(color_scheme=scheme)
                        page.goto(address)
                        end = "" if readme else f"-{width}-{scheme}"
                        page.screenshot(path=str(folder / f"{name}{end}.png"), full_page=not readme)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
