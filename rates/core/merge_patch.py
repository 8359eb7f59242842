"""A change told as a merge patch (RFC 7396): what is named is put in, null takes away, all else stays."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any


def merge_patch(target: object, patch: object) -> Any:
    """The target with the patch merged in; lists are replaced whole. Neither of the two is changed."""
    if not isinstance(patch, Mapping):
        return patch
    merged = dict(target) if isinstance(target, Mapping) else {}
    for name, item in patch.items():
        if item is None:
            merged.pop(name, None)
        else:
            merged[name] = merge_patch(merged.get(name), item)
    return merged
