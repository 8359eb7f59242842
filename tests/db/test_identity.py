"""Ids are UUIDs of version 7 (RFC 9562 section 5.7) and keep the order of their making."""

from __future__ import annotations

import threading
import time
import uuid

import pytest

from rates.identity import new_id, read_id


def test_version_variant_and_time() -> None:
    before = time.time_ns() // 1_000_000
    id = new_id()
    after = time.time_ns() // 1_000_000
    assert (id.version, id.variant) == (7, uuid.RFC_4122)
    assert before <= id.int >> 80 <= after + 1


def test_ids_of_several_threads_are_unique_and_each_thread_sees_them_grow() -> None:
    made: list[list[uuid.UUID]] = [[] for _ in range(4)]

    def make(place: int) -> None:
        made[place] += [new_id() for _ in range(5000)]

    threads = [threading.Thread(target=make, args=(place,)) for place in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len({id for ids in made for id in ids}) == 20_000
    assert all(ids == sorted(ids) for ids in made)


@pytest.mark.parametrize(
    ("text", "known"),
    [
        ("01a214f1-cadc-707f-9454-a38905726110", True),
        ("01A214F1-CADC-707F-9454-A38905726110", True),
        ("01a214f1cadc707f9454a38905726110", False),
        ("{01a214f1-cadc-707f-9454-a38905726110}", False),
        ("urn:uuid:01a214f1-cadc-707f-9454-a38905726110", False),
        ("01a214f1-cadc-707f-9454-a3890572611g", False),
        ("", False),
        ("x" * 36, False),
    ],
)
def test_reading_takes_the_usual_form_alone(text: str, known: bool) -> None:
    assert (read_id(text) is not None) == known
