"""The words of storeys, elevations, buildings and units in folded text: English, German, French, Spanish.

Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_ORDINAL = r"\d{1,3}(?:st|nd|rd|th|eme|ere|er|e|a|o|°)?(?![\d'\"])"
_TO = (
    r"\s*(?:-|\bto\b|\bthru\b|\bthrough\b|\bbis\b|\ba\b|\bal\b|\bau\b|\bhasta\b|,(?:\s*(?:and|&))?|&|\+|/"
    r"|\band\b|\bund\b|\bet\b|\by\b)\s*"
)
_NO_COUNT = r"(?!\s*(?:units?|no|nos|off|thus|openings?|windows?|doors?|pcs|ea)\b)"  # House 3 - 14 no.: 14 is no house
_LEVEL = r"(?:levels?|lvls?\.?|lev\.?)"
_FLOOR = r"(?:floors?|flrs?\.?|flr|fl\.?|storeys?|stories|story)"


def _run(before: str, after: str = "", number: str = _ORDINAL) -> str:
    one = rf"{before}{number}{after}"
    return rf"(?<![\w.]){one}(?:{_TO}(?:{before})?{number}(?:{after})?)*(?!\w){_NO_COUNT}"


def _run_after(number: str, after: str) -> str:
    return rf"(?<![\w.])(?:{number}(?:{after})?{_TO})*{number}{after}(?!\w)"


STOREY_PATTERNS = tuple(
    (name, re.compile(pattern))
    for name, pattern in (
        ("R+{}", _run(r"r\s?\+\s?", "", r"\d{1,2}")),
        ("R-{}", _run(r"(?:r\s?-\s?|ss\s?|sous-sol\s?)", "", r"\d{1,2}")),
        ("{}.OG", _run_after(r"\d{1,2}\.?", r"\s?(?:og|obergeschoss(?:e|en)?)\b\.?")),
        ("{}.OG", _run(r"(?:og|obergeschosse?)\s?", "", r"\d{1,2}")),
        ("{}.UG", _run_after(r"\d{1,2}\.?", r"\s?(?:ug|untergeschoss(?:e)?)\b\.?")),
        ("{}.UG", _run(r"ug\s?", "", r"\d{1,2}")),
        ("Etage {}", _run_after(r"\d{1,2}(?:eme|ere|er|e|\.)?", r"\s?(?:etages?|stock(?:werk)?|geschoss)\b")),
        ("Etage {}", _run(r"(?:etages?|stock(?:werk)?|geschosse?)\s?", "")),
        ("Niveau {}", _run(r"(?:niveaux?|niv\b\.?)\s?", "")),
        ("Niveau {}", _run_after(r"\d{1,2}(?:eme|er|e)?", r"\s?niveaux?\b")),
        ("Planta {}", _run(r"(?:plantas?|pl\b\.?|pisos?)\s?", "")),
        ("Planta {}", _run_after(r"\d{1,2}(?:a|o|°|\.a|\.)", r"\s?(?:plantas?|pisos?)\b")),
        ("Nivel {}", _run(r"nivel(?:es)?\s?", "")),
        ("Level {}", _run(rf"{_LEVEL}\s*#?", "")),
        ("Level {}", _run_after(r"\d{1,3}(?:st|nd|rd|th)", rf"\s*{_LEVEL}")),
        ("Floor {}", _run(rf"{_FLOOR}\s*#?", "")),
        ("Floor {}", _run_after(r"\d{1,3}(?:st|nd|rd|th)", rf"\s*{_FLOOR}")),
        (
            "Floor {}",
            rf"(?<![\w.])\d{{1,3}}\s*(?:-|\bto\b|\bthru\b|\bthrough\b)\s*\d{{1,3}}\s*(?:{_FLOOR}|{_LEVEL})(?!\w)",
        ),
        ("L{}", _run(r"l\s?-?", "", r"\d{1,3}(?![\d'\"])")),
        ("F{}", _run(r"f", "", r"\d{1,3}(?![\d'\"])")),
        ("P{}", _run(r"p", "", r"\d{1,2}(?![\d'\"])")),
        ("B{}", _run(r"b", "", r"[1-9](?![\d'\"])")),
    )
)
NAMED_STOREYS = tuple(
    (name, re.compile(rf"(?<![\w.])(?:{words})(?!\w)\.?"))
    for name, words in (
        ("Ground", (r"ground(?: floor| level| flr| fl)?|g\.?f\.?(?=\s|$)|grd\.? (?:floor|flr)|gnd(?: floor)?|street "
r"level|grade level|at grade")),
        ("EG", r"eg|erdgeschoss|parterre"),
        ("RDC", r"r\.?d\.?c|rez[- ]de[- ]chaussee|rez|r\s?\+\s?0"),
        ("RDJ", r"rdj|rez[- ]de[- ]jardin"),
        ("Planta baja", r"planta baja|pb|p\.?\s?b\.?|bajo|bajos"),
        ("Planta primera", r"(?:planta )?primera(?: planta)?|primer piso|planta principal"),
        ("Planta segunda", r"(?:planta )?segunda(?: planta)?|segundo piso"),
        ("Planta tercera", r"(?:planta )?tercera(?: planta)?|tercer piso"),
        ("Basement", r"basement|bsmt|bsmnt|cellar|below grade|garden level"),
        ("Lower level", r"lower (?:level|floor)|ll"),
        ("Upper level", r"upper (?:levels?|floors?)"),
        ("Main", r"main (?:floor|level)"),
        ("Mezzanine", r"mezzanine|mezz|entresol|entreplanta|altillo|zwischengeschoss|zg"),
        ("Penthouse", r"penthouse|ph(?: level| floor)?|mech(?:anical)? penthouse"),
        ("Roof", r"roof(?: level| deck)?|dach|toiture|cubierta|toit|terrasse"),
        ("Attic", r"attic|dachgeschoss|dg|combles|atico|buhardilla"),
        ("KG", r"kg|kellergeschoss|keller"),
        ("UG", r"ug|untergeschoss"),
        ("OG", r"og|obergeschoss"),
        ("Sous-sol", r"sous-?\s?sol|s/sol"),
        ("Sótano", r"sotano|semisotano"),
        *((f"Floor {n}", rf"{word} (?:floor|flr|fl|level|storey|story)") for n, word in enumerate(
            ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"), 1)),
    )
)  # fmt: skip
_NORTH, _SOUTH = r"nord|north|norte|nth", r"sud|sued|south|sur|sth"
_EAST, _WEST = r"east|est|este|ost", r"west|ouest|oeste|wst"
_E = (
    r"(?:\s*-?\s*(?:elevations?|elevs?\.?|el\.?|facades?|fassaden?|ansicht(?:en)?|seite|side|faces?"
    r"|wall|giebel|gable|pignon))?"
)
_BEFORE = r"(?:(?:facades?|elevations?|fachadas?|alzados?|pignon|cote|lado|fassade|ansicht)\s+)?"
NAMED_ELEVATIONS = tuple(
    (name, re.compile(rf"(?<![\w.])(?:{_BEFORE}(?:{words}){_E})(?!\w)\.?"))
    for name, words in (
        ("Northeast", rf"(?:{_NORTH})\s*-?\s*(?:{_EAST})|noreste|nordeste"),
        ("Northwest", rf"(?:{_NORTH})\s*-?\s*(?:{_WEST})|noroeste"),
        ("Southeast", rf"(?:{_SOUTH})\s*-?\s*(?:{_EAST})|sureste|sudeste"),
        ("Southwest", rf"(?:{_SOUTH})\s*-?\s*(?:{_WEST})|suroeste|sudoeste"),
        ("North", _NORTH), ("South", r"sud|sued|south|sth"), ("East", _EAST), ("West", _WEST),
        ("South", r"(?:(?<=fachada )|(?<=alzado )|(?<=lado ))sur|^\s*sur\s*$"),
        ("Front", r"front|vorne|vorder(?:seite|ansicht)?|avant|frontal|principal|delantera"),
        ("Rear", (r"rear|back (?=elevation|elev|side|facade)|hinten|ruck(?:seite|ansicht)?|rueckseite|arriere"
r"|trasera|posterior")),
        ("Street", r"street side|strassenseite|straßenseite|cote rue|sur rue|a la calle"),
        ("Courtyard", r"courtyard|hofseite|hof|cote cour|sur cour|patio interior"),
        ("Garden", r"garden side|gartenseite|cote jardin"),
    )
) + (
    ("Left", re.compile(r"(?<!\w)(?:left|linke|gauche|izquierda)[ -]*(?:side )?(?:elevation|elev|facade|side|seite"
r"|ansicht)\b|fa[cs]ade gauche|fachada izquierda|linke seite|seite links|^\s*left side\s*$")),
    ("Right", re.compile(r"(?<!\w)(?:right|rechte|droite|derecha)[ -]*(?:side )?(?:elevation|elev|facade|side|seite"
r"|ansicht)\b|fa[cs]ade droite|fachada derecha|rechte seite|seite rechts|^\s*right side\s*$")),
    ("All", re.compile(r"(?<!\w)(?:all (?:elevations?|elevs?|sides|facades)|alle (?:fassaden|ansichten|seiten)|toutes "
r"(?:les )?facades|todas las fachadas)\b")),
)  # fmt: skip
LETTERS: dict[str, tuple[str, ...]] = {
    "n": ("North",), "s": ("South",), "e": ("East",), "w": ("West",), "o": ("East", "West"),
    "ne": ("Northeast",), "se": ("Southeast",), "nw": ("Northwest",), "sw": ("Southwest",),
    "no": ("Northeast", "Northwest"), "so": ("Southeast", "Southwest"),
}  # fmt: skip
_LETTER = r"(?:n\.?\s?[eow]|s\.?\s?[eow]|[nsewo])\.?"
_LETTER_RUN = rf"(?P<letters>{_LETTER}(?:\s*(?:,|&|/|\+|-|\band\b|\bund\b|\bet\b|\by\b)\s*{_LETTER})*)"
_WORD = r"(?:elevations?|elevs?\.?|el\.|facades?|fassaden?|ansicht(?:en)?|seiten?|sides?|faces?)"
_LETTER_PATTERNS = (
    re.compile(rf"(?<!\w){_LETTER_RUN}\s*-?\s*{_WORD}(?!\w)"),
    re.compile(rf"(?<!\w)(?:{_WORD}|fachadas?|alzados?|pignon)(?![a-z])\s*[:\-]?\s*{_LETTER_RUN}(?!\w)"),
    re.compile(rf"^\s*{_LETTER_RUN}\s*$"),
)


def elevation_letters(folded: str) -> Iterator[re.Match[str]]:
    """Runs of letters that name elevations: beside a word of elevations, or alone in the text."""
    for pattern in _LETTER_PATTERNS:
        yield from pattern.finditer(folded)


ELEVATION_WORDS = re.compile(
    r"(?<!\w)(?:elevations?|elevs?\.?|facades?|fassaden?|ansicht(?:en)?|fachadas?|alzados?)(?!\w)"
)
TYPICAL_FLOORS = re.compile(
    rf"(?<!\w)(?:typ(?:ical)?\b\.?\s*(?:{_FLOOR}|{_LEVEL})(?!\s*[\d(])|regelgeschosse?|(?:etages?"
    rf"|niveaux?) courants?|plantas? tipo)(?!\w)"
)
TYPICAL = re.compile(r"(?<!\w)(?:typ(?:ical|isch|ique)?\b\.?|tipicas?|tipicos?)")
_NAME = r"(?:\d{1,4}[a-z]?|[a-z]\d{0,3})"
_NAME_RUN = rf"(?P<names>{_NAME}(?:\s*(?:,|&|/|\+|-|\bto\b|\bthru\b|\bbis\b|\band\b|\bund\b|\bet\b|\by\b)\s*{_NAME})*)(?!\w){_NO_COUNT}"  # noqa: E501
NAMES = tuple(
    (kind, word, re.compile(rf"(?<!\w)(?:{words})(?![a-z])\s*(?:no\.?|nr\.?|#|:)?\s*{_NAME_RUN}"))
    for kind, word, words in (
        ("building", "Building", r"buildings?|bldgs?\.?|gebaude|haus|hauser|batiments?|bat\.?|edificios?|casa"),
        ("building", "Block", r"blocks?|bloques?"),
        ("building", "Tower", r"towers?|turm|tours?|torres?"),
        ("building", "Wing", r"wings?|aile|ala|flugelbau"),
        ("building", "Phase", r"phases?|bauabschnitt|ba|fase|tranche"),
        ("building", "Stair", r"cage|escalier|portal|aufgang"),
        (
            "unit",
            "Unit",
            (
                r"unit types?|units?|apartments?|apts?\.?|suites?|wohnung(?:en)?|we|wohneinheit|logements?"
                r"|appartements?|appt\.?|viviendas?|apartamentos?"
            ),
        ),
        ("unit", "House", r"house type|houses?|plots?|lots?|maisons?|villas?"),
        (
            "elevation",
            "Elevation",
            r"(?:elevations?|elevs?\.?|facades?|fassade|ansicht|fachada|alzado)(?!\s*-?\s*[nsew](?!\w))",
        ),
        ("unit", "Room", r"rooms?|rm\.?|raum|zimmer|piece|chambre"),
    )
)
