"""As test_killed_workers and test_many_senders, on Celery with PostgreSQL.

The whole pool is killed, and started again as Compose would.
"""

from __future__ import annotations

import random
import threading
import time
from collections import Counter
from pathlib import Path

import pytest

from tests.deployment import deployed
from tests.faults.test_killed_workers import CLIENTS, KILLS, RUNS, feed, post_all
from tests.faults.test_many_senders import check_one_run_for_each_key

pytestmark = pytest.mark.campaign


def test_nothing_is_lost_or_stored_twice_and_each_key_makes_one_run(tmp_path: Path) -> None:
    with deployed(tmp_path, RUN_LEASE_SECONDS="2") as deployment:
        client, request = deployment.client("golden"), deployment.request("golden")
        ids: list[str] = []
        threads = [threading.Thread(target=post_all, args=(client, request, ids)) for _ in range(CLIENTS)]
        for thread in threads:
            thread.start()
        chance = random.Random(4)
        for _ in range(KILLS):
            time.sleep(chance.uniform(0.3, 1.5))
            deployment.kill("worker")
            deployment.run("worker")
        for thread in threads:
            thread.join()
        assert len(set(ids)) == RUNS // CLIENTS * CLIENTS
        assert Counter(client.until_ended(id)["state"] for id in ids) == {"costed": len(ids)}
        told = feed(client)
        assert {told[id] for id in ids} == {1}
        check_one_run_for_each_key(client, request)
