"""Runs the frozen yardstick with a clock that notes processor time beside its own: python usual_way_twice.py LINES

Prints the yardstick's JSON object, seconds by the clock, and below it the same steps in seconds of processor time.
"""

from __future__ import annotations

import json
import runpy
import time
from pathlib import Path

STEPS = ("validate", "compute", "store", "render")
by_clock, noted = time.perf_counter, list[float]()


def read_both() -> float:
    """What the yardstick's clock shows; the processor time is noted."""
    noted.append(time.process_time())
    return by_clock()


time.perf_counter = read_both
runpy.run_path(str(Path(__file__).with_name("usual_way.py")), run_name="__main__")
steps = {step: end - start for step, start, end in zip(STEPS, noted[-5:], noted[-4:], strict=False)}
print(json.dumps(steps | {"total": noted[-1] - noted[-5]}))
