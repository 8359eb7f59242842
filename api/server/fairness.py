"""Who gives way when there is no room: always the address that takes the most of it, so that no other is kept out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Protocol, TypeVar

SMALL = 2**20  # bytes: what holds less is never asked to give way for its size


class Holder(Protocol):
    """A connection."""

    asker: str
    began: float
    lingering: bool

    @property
    def serving(self) -> bool: ...

    @property
    def held(self) -> int: ...


One = TypeVar("One", bound=Holder)


def first_to_close(connections: Iterable[One]) -> One | None:
    """Of the address with the most connections the one that has waited longest, served ones apart; None without one."""
    found = list(connections)
    counts = Counter(connection.asker for connection in found)
    free = [connection for connection in found if not connection.serving]
    return min(free, key=lambda one: (-counts[one.asker], not one.lingering, one.began), default=None)


def first_to_shrink(connections: Iterable[One], most: int) -> Iterator[One]:
    """One after the other until no more than `most` bytes are held: the largest of the address that holds the most."""
    found = list(connections)
    held: Counter[str] = Counter()
    for connection in found:
        held[connection.asker] += connection.held
    total = sum(held.values())
    free = [connection for connection in found if not connection.serving and connection.held > SMALL]
    while total > most and free:
        largest = max(free, key=lambda one: (held[one.asker], one.held))
        free.remove(largest)
        held[largest.asker] -= largest.held
        total -= largest.held
        yield largest
