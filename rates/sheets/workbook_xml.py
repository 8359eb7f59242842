"""XML parts of a workbook read event by event: no document type, no entity of its own, no tree in memory."""

from __future__ import annotations

from collections.abc import Callable
from xml.parsers import expat

from rates.core.problems import Unreadable

Start = Callable[[str, dict[str, str]], None]
End = Callable[[str], None]
Text = Callable[[str], None]


def local(name: str) -> str:
    """A name without its namespace."""
    return name.rpartition(" ")[2].rpartition(":")[2]


def no_doctype(*_: object) -> None:
    """A document type is how entity bombs come in; a workbook has none."""
    raise Unreadable("entity_bomb", "the workbook's XML declares a document type; it is not read")


def parse(data: bytes, start: Start, end: End | None = None, text: Text | None = None) -> None:
    """Calls start, end and text for the elements of an XML part, names without prefix; Unreadable broken_workbook."""
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = no_doctype
    parser.StartElementHandler = start
    if end is not None:
        parser.EndElementHandler = end
    if text is not None:
        parser.CharacterDataHandler = text
    try:
        parser.Parse(data, True)
    except Unreadable:
        raise
    except (expat.ExpatError, LookupError, ValueError, RecursionError):
        raise Unreadable("broken_workbook", "a part of the workbook is no readable XML") from None
