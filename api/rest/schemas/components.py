"""Every object, enumeration and named kind of text of the description as one component, referred to where it stands.

A schema's name is its `title`, else what the words of an enumeration are called, else where it stands: the names of
what stands in it begin with its own, or with `within`; its own begins with `before_name`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from api.rest.schemas.names import ABOUT, ENUMERATIONS, WORDS

Json = dict[str, Any]
REFERENCE = "#/components/schemas/"
PLURALS = (("ies", "y"), ("sses", "ss"), ("ches", "ch"), ("shes", "sh"), ("s", ""))
PRIVATE = ("title", "about", "within", "before_name", "description")
KEPT = ("ss", "us", "is", "hours", "minutes")  # words that are not made singular


class Components:
    """The named schemas of one description."""

    def __init__(self) -> None:
        self.found: Json = {}
        self.words: dict[frozenset[str], str] = {}

    def reference(self, name: str, schema: Mapping[str, Any]) -> Json:
        """The reference to a component, which is kept; its own words are `about`."""
        inner = {key: value for key, value in schema.items() if key not in PRIVATE}
        said = ABOUT.get(name) or schema.get("about") or schema.get("description")
        within = schema.get("within", name)
        return self.keep(name, ({"description": said} if said else {}) | self.inside(inner, within))

    def keep(self, name: str, schema: Json) -> Json:
        """Keeps a component; ValueError where another one has its name, or an enumeration another one's words."""
        words = frozenset(schema.get("enum", ()))
        if words and self.words.setdefault(words, name) != name:
            raise ValueError(
                f"{name} and {self.words[words]} have the same words: they need one name (schemas/names.py)"
            )
        if self.found.setdefault(name, schema) != schema:
            raise ValueError(f"two schemas are called {name}; give one of them a title")
        return {"$ref": REFERENCE + name}

    def place(self, schema: Mapping[str, Any], name: str) -> Json:
        """The schema where it stands: a reference for what has a name, `name` for what has no better one."""
        found = dict(schema)
        if "$ref" in found:
            return found
        words = [word for word in found.get("enum", ()) if word is not None]
        name = found.pop("before_name", "") + name
        title = ENUMERATIONS.get(frozenset(words)) or found.get("title")
        kinds = found["type"] if isinstance(found.get("type"), list) else [found.get("type")]
        rest = [kind for kind in kinds if kind != "null"]
        if not (title or words or rest == ["object"]):
            return self.inside(found, name)
        said = {"description": found["description"]} if "description" in found else {}
        if title:  # what is said of it here is not what it says of itself
            found.pop("description", None)
        if title in WORDS:
            found.pop("about", None)
        found |= ({"type": rest[0] if len(rest) == 1 else rest} if "type" in found else {}) | (
            {"enum": words} if words else {}
        )
        whole = self.reference(title or name, found)
        return ({"anyOf": [whole, {"type": "null"}]} if "null" in kinds else whole) | said

    def inside(self, schema: Json, name: str) -> Json:
        """A schema with what stands in it in place."""
        found = dict(schema)
        if "properties" in found:
            found["properties"] = {
                field: self.place(part, name + camel(field)) for field, part in found["properties"].items()
            }
        if isinstance(found.get("items"), Mapping):
            found["items"] = self.place(found["items"], singular(name))
        if isinstance(found.get("additionalProperties"), Mapping):
            found["additionalProperties"] = self.place(found["additionalProperties"], f"{singular(name)}Value")
        if "propertyNames" in found:
            found["propertyNames"] = self.place(found["propertyNames"], f"{singular(name)}Name")
        for form in ("anyOf", "oneOf"):
            if form in found:
                found[form] = [self.place(part, f"{name}Form{i}") for i, part in enumerate(found[form], 1)]
        return found


def camel(name: str) -> str:
    """A field's or an address's word as part of a name."""
    return "".join(word[:1].upper() + word[1:] for word in re.split(r"[^A-Za-z0-9]+", name))


def singular(name: str) -> str:
    """The name of one of them."""
    if name.lower().endswith(KEPT):
        return name + "Item"
    for end, instead in PLURALS:
        if name.endswith(end):
            return name.removesuffix(end) + instead
    return name + "Item"
