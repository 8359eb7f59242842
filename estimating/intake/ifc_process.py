"""A building model opened in a process of its own, watched and ended at its memory and time limit."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
import time
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryFile
from typing import IO, Any

from estimating.intake.sniffing import refuse
from rates.core.problems import Problem, Refused
from rates.refusals import Busy

ROOT = Path(__file__).resolve().parent.parent.parent
MOST_OUTPUT = 100_000_000
END = b"END-ISO-10303-21;"
LOOK_SECONDS = 0.02
AT_ONCE = 2  # models being opened: each may take its memory, and the thread that waits for it
seats = threading.BoundedSemaphore(AT_ONCE)
PAGE_KB = 4
TOOLKIT_MISSING = "ModuleNotFoundError: No module named 'ifcopenshell'"


@dataclass(frozen=True)
class Limits:
    """What the process may take. Its address space is held to twice its memory: libraries map more than they use."""

    megabytes: int = 1_500
    seconds: int = 20  # what is left to do with MOST_ELEMENTS of a model takes less than as many again


def read_in_process(data: bytes, limits: Limits | None = None) -> dict[str, Any]:
    """What the model holds (ifc_model.read_model); Refused, or Busy while others are being opened.

    Codes: too_large_for_memory, took_too_long, too_many_elements, schema_not_read, broken_model, ifc_not_installed.
    """
    if END not in data[-200:]:
        raise Refused([refuse("broken_model", "the model was cut short in transfer: it has no end")])
    if not seats.acquire(blocking=False):
        raise Busy(f"{AT_ONCE} building models are being opened; send this one again in a moment")
    try:
        return open_watched(data, limits or Limits())
    finally:
        seats.release()


def open_watched(data: bytes, limits: Limits) -> dict[str, Any]:
    """What the model holds, by a process that is ended at its limits; Refused.

    The files between the two have no names: whoever of them is killed, nothing stays on the disk.
    """
    with TemporaryFile() as model, TemporaryFile() as output, TemporaryFile() as errors:
        model.write(data)
        model.seek(0)
        command = [sys.executable, "-m", "estimating.intake.ifc_child", str(2 * limits.megabytes), str(limits.seconds)]
        process = subprocess.Popen(command, stdin=model, stdout=output, stderr=errors, cwd=ROOT, start_new_session=True)
        try:
            problem = watch(process, limits)
        finally:
            if process.poll() is None:
                process.kill()
            process.wait()
        if problem is None:
            errors.seek(0)
            problem = judge(process.returncode, errors.read()[-4000:].decode(errors="replace"))
        if problem is not None:
            raise Refused([problem])
        return understand(output)


def watch(process: subprocess.Popen[bytes], limits: Limits) -> Problem | None:
    """Waits for the end; ends the process at its limits and says which one."""
    until = time.monotonic() + limits.seconds
    while process.poll() is None:
        if resident_kb(process.pid) > limits.megabytes << 10:
            process.kill()
            return refuse("too_large_for_memory", f"the model needs more than {limits.megabytes:,} MB to be opened")
        if time.monotonic() > until:
            process.kill()
            return refuse("took_too_long", f"the model was not read within {limits.seconds} s")
        time.sleep(LOOK_SECONDS)
    return None


def resident_kb(pid: int) -> int:
    """The memory that a process holds, 0 where the system doesn't say."""
    try:
        return int(Path(f"/proc/{pid}/statm").read_text().split()[1]) * PAGE_KB
    except (OSError, ValueError, IndexError):
        return 0


def judge(status: int, errors: str) -> Problem | None:
    """What the ended process says by its status."""
    if status in (0, 2):
        return None
    if TOOLKIT_MISSING in errors:
        return refuse("ifc_not_installed", "this installation reads no models; install the extra ifc")
    if status == 9 or "MemoryError" in errors or "bad_alloc" in errors:
        return refuse("too_large_for_memory", "the model needs more memory than is given to opening one")
    if status == -24:  # SIGXCPU
        return refuse("took_too_long", "the model took too long to read")
    return refuse("broken_model", "the model can't be opened; it is broken or was cut short in transfer")


def understand(output: IO[bytes]) -> dict[str, Any]:
    """The output of the process; Refused where it says that the model can't be read."""
    if output.seek(0, os.SEEK_END) > MOST_OUTPUT:
        raise Refused([refuse("too_large", "the model holds too many openings")])
    output.seek(0)
    try:
        found = json.loads(output.read())
    except ValueError:
        raise Refused([refuse("broken_model", "the model can't be opened; it is broken")]) from None
    if "refused" in found:
        detail = (
            "the model can't be opened: it is broken, or of a schema that is not read (IFC2x3, IFC4 and IFC4x3 are)"
        )
        raise Refused([refuse("schema_not_read" if "chema" in found["refused"] else "broken_model", detail)])
    if "too_many" in found:
        detail = f"the model holds {found['too_many']:,} windows and doors; at most {found['most']:,} are read"
        raise Refused([refuse("too_many_elements", detail)])
    if "broken" in found:
        raise Refused([refuse("broken_model", "the model's data is broken: a window or door can't be followed")])
    return dict(found)
