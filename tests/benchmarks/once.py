"""Costs one request in this process, by the code of the checkout that PYTHONPATH names: python once.py BODY EDITION

BODY and EDITION are files of JSON. Prints one JSON object: seconds of processor time and by the clock, from the
request's text to the costed estimate, openings costed, and peak memory in MiB.
"""

from __future__ import annotations

import json
import resource
import sys
import time
from pathlib import Path

from estimating.collector import collector_paused
from estimating.core.job import cost_request
from rates.core.card import EditionSource
from rates.core.jsontext import read_json

body, document = (Path(name).read_text() for name in sys.argv[1:])
edition = EditionSource("benchmark", 1, "company", read_json(document))
cpu, wall = time.process_time(), time.perf_counter()
with collector_paused():  # as the command and the service do
    estimate = cost_request(read_json(body), [edition])
spent = {"cpu": time.process_time() - cpu, "wall": time.perf_counter() - wall}
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
print(json.dumps(spent | {"openings": estimate.openings, "peak_mib": peak}))
