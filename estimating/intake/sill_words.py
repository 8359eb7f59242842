"""Kinds of sill that a column tells: sloped 15 deg, pan, flat; what names one without saying all of it is asked."""

from __future__ import annotations

import re
from functools import lru_cache

from estimating.intake.doubts import Doubt
from estimating.intake.draft import Draft
from estimating.intake.ends import FIELD
from estimating.intake.folding import compose, fold
from estimating.intake.line_answers import AS_DRAWN
from estimating.intake.scope_columns import read_tick
from estimating.intake.size_words import read_size_text
from estimating.intake.tables import Table
from rates.core.grid import GridRow

KINDS = {
    "flat": "flat level square waagrecht eben plat plano",
    "pan": "pan panned wanne",
    "threshold": "threshold thresh schwelle seuil umbral",
    "none": "none",
}
WITHOUT_SILL = frozenset({"round", "pipe", "ellipse"})
_KIND = {word: kind for kind, words in KINDS.items() for word in words.split()}
_DEGREES = r"(\d{1,2}(?:\.\d+)?)\s*(?:°|degrees?\b|degs?\b\.?|grad\b|degres?\b|grados?\b)"
_SLOPE = r"(?:slop(?:ed|ing|e)|pitch(?:ed)?|schrag|geneigt|incline|inclinado)"
_SLOPED = re.compile(rf"{_SLOPE}\s*(?:sill|at|@|to|of|,|:|-)?\s*{_DEGREES}|{_DEGREES}\s*(?:{_SLOPE})?(?:\s*sill)?")
DAM = r"(?:(?:back|end) ?)?dams?|up ?(?:turn|stand)s?"  # what a pan has behind or at its ends
_NAMES_KIND = re.compile(
    rf"\b(?:{_SLOPE}|slp|sl|{DAM}|pans?|panned|threshold|thresh|saddle|curb)\b"
    r"|°|\bdeg\b|\d\s*:\s*\d|\bper (?:ft|foot)\b"
)


# Of a sill's kind they say nothing: its material, where it is drawn, or that it is as usual
_SAYS_NOTHING = re.compile(
    r"precast|cast|stone|limestone|granite|marble|brick|rowlock|concrete|conc|wood|metal|alum(?:inum)?|pvc|vinyl|tile"
    r"|see|per|details?|dtl|det|typ(?:ical)?|std|standard|sim|yes|varies|tbd|exist(?:ing)?|stool"
)


def names_other(cell: str) -> bool:
    """Whether a cell of a column of kinds has a word that is of no known kind and of no material."""
    words = re.findall(r"[^\W\d_]{3,}", fold(compose(cell[:80])))
    return bool(words) and not read_size_text(cell).dimensions and not any(map(_SAYS_NOTHING.fullmatch, words))


@lru_cache(maxsize=4096)
def read_sill(cell: str) -> dict[str, str] | None:
    """The fields of the sill that a cell gives in full; empty where it names one without all of it, None for none."""
    plain = " ".join(fold(compose(cell[:80])).split()).strip(" .")
    sloped = _SLOPED.fullmatch(plain)
    if sloped and 0 < float(degrees := next(filter(None, sloped.groups()))) <= 60:
        return {"kind": "sloped", "angle_degrees": degrees}
    kind = _KIND.get(re.sub(r"\s*\bsill\b\s*", "", plain))
    if kind:
        return {"kind": kind}
    return {} if _NAMES_KIND.search(plain) else None


class SillReader:
    """Reads the sills of the lines of one table, from its columns of sills."""

    def __init__(self, table: Table) -> None:
        named = ("sill", "sill_height")
        self.table = table
        self.columns = [c for c, heading in table.columns.items() if heading.field in named]
        self.kinds = {c for c in self.columns if table.columns[c].field == "sill"}
        heads = {c: table.headings[c] if c < len(table.headings) else "" for c in self.columns}
        self.pans = {c for c, head in heads.items() if re.search(r"\bpans?\b", head, re.IGNORECASE)}  # ticked

    def put(self, row: GridRow, draft: Draft, place: str, column: int) -> Doubt | None:
        """Puts in the sill of one cell, or the doubt about it where it is not told in full or does not fit the line."""
        pan = column in self.pans and read_tick(row.cell(column))[0] == "yes"
        said = {"kind": "pan"} if pan else read_sill(row.cell(column))
        if said is None and not (column in self.kinds and names_other(row.cell(column))):
            return None
        shape, kind = draft.values.get("shape"), draft.values.get("kind")
        if said and shape not in WITHOUT_SILL and kind != "pipe" and "sides" not in draft.values:
            draft.values["sill"] = dict(said)
            self.table.ends.cell(row.number, column, FIELD, "sill.kind")
            return None
        options = {kind: {"sill": {"kind": kind}} for kind in KINDS} | {AS_DRAWN: {}}
        return Doubt("sill_unknown", draft, place, row.cell(column), (), options, "", "sill")
