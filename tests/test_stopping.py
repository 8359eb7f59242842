"""A process that is told to stop does, at whatever step of its wait the signal comes."""

from __future__ import annotations

import subprocess
import sys

from tests.service import ROOT

# In a process of its own: what may be held for ever is killed. Every line that runs between the beginning of a wait
# and its end, those of the library's own code included, is the place of a signal once; a signal may follow another.
TRIED = """
import signal, sys
from estimating.work.stopping import stopping_by_signal

def tried(stop, place):
    passed = 0
    def at_line(frame, event, argument):
        nonlocal passed
        if event == "line":
            passed += 1
            if passed == place:
                signal.raise_signal(signal.SIGTERM)
                signal.raise_signal(signal.SIGINT)
        return at_line
    sys.settrace(lambda frame, event, argument: at_line)
    try:
        ended = stop.wait(0.001)
    finally:
        sys.settrace(None)
    return passed >= place, ended

place = 0
while True:
    place += 1
    stop = stopping_by_signal()
    reached, ended = tried(stop, place)
    if not reached:
        break
    assert stop.is_set() and stop.wait(60), place
print(place - 1)
"""


def test_a_signal_at_any_step_of_a_wait_ends_it() -> None:
    done = subprocess.run([sys.executable, "-c", TRIED], cwd=ROOT, capture_output=True, timeout=60, check=True)
    assert int(done.stdout) > 3  # places
