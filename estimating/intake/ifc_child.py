"""The process that opens a building model: python -m estimating.intake.ifc_child MEGABYTES SECONDS < FILE, JSON out.

It limits itself before it reads, and is watched and ended from outside as well. Nothing else imports the toolkit.
"""

from __future__ import annotations

import json
import resource
import sys

import ifcopenshell

from estimating.intake.ifc_model import read_model


def main(megabytes: int, seconds: int) -> int:
    """Writes what the model holds to the standard output; 2 and a sentence where it can't be read."""
    resource.setrlimit(resource.RLIMIT_AS, (megabytes << 20, megabytes << 20))
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    try:
        model = ifcopenshell.open("/dev/stdin", ".ifc")
    except (ifcopenshell.Error, ifcopenshell.SchemaError, OSError, RuntimeError, ValueError) as error:
        json.dump({"refused": str(error)[:300]}, sys.stdout)
        return 2
    except MemoryError:
        return 9
    try:
        json.dump(read_model(model), sys.stdout)
    except MemoryError:
        return 9
    except (AttributeError, TypeError, RuntimeError, ValueError, IndexError) as error:
        json.dump({"broken": f"{type(error).__name__}: {error}"[:300]}, sys.stdout)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]), int(sys.argv[2])))
