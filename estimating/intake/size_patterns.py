"""The patterns of sizes in folded text (one kind of quote, dash and times sign): lengths, their words, pairs, counts.

Common practice, no source. English, German, French, Spanish.
"""

from __future__ import annotations

import re

_FRACTION = r"(?:\d+/\d+|[¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])"
_NUMBER = r"(?:\d+(?:[.,]\d+)*|[.,]\d+)"
_MIXED = rf"(?:\d{{1,2}} \d{{3}}(?!\d)|\d+(?:\s?-\s?|\s+|(?=[¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])){_FRACTION}|{_FRACTION}|{_NUMBER})"
_INCH = (
    r"(?:\"|''|(?:inches|inch|in)\b(?!\s+(?:one|a|the|wall|opening|frame)\b)\.?|zoll\b|pouces?\b|pulgadas?\b|pulg\b\.?)"
)
_FOOT = r"(?:'(?!')|(?:feet|foot|ft)\b\.?|fuss\b|pieds?\b|pies?\b)"
_FEET_INCHES = rf"{_NUMBER}\s*{_FOOT}(?:\s*-?\s*{_MIXED}(?:\s*{_INCH})?(?![\d/]))?"
_METRIC = (
    r"(?:\d{1,3}(?:[ ']\d{3})+(?:[.,]\d+)?|(?:\d+(?:[.,]\d+)*|[.,]\d+))\s*(?:mm|cm|m|dm|millimet(?:er"
    r"|re)s?|met(?:er|re)s?|metros?)\b\.?(?![²³^])"
)
_UNITS = rf"(?:{_FEET_INCHES}|{_MIXED}\s*{_INCH}|{_METRIC})"
_DASHED = rf"\d{{1,2}}\s?-\s?\d{{1,2}}(?:(?:\s|-){_FRACTION})?"
_SLASHED = r"\d{1,2}/\d{1,2}"
_EDGE = r"(?<![\w/.,'\"-])"
LENGTH = rf"(?:{_UNITS}|{_DASHED}|{_SLASHED}(?!\d)|{_MIXED})(?!\d)"
SIDES = {
    "width": frozenset("w wd wide width b br breit breite l lg larg large largeur an ancho".split()),
    "height": frozenset("h ht high height hgt tall hoch hohe haut hauteur al alto altura".split()),
}
_SIDE = (
    r"(?:width|wide|wd|w|breite|breit|br|b|largeur|larg|large|lg|l|ancho|an|height|high|hgt|ht|h|tall"
    r"|hohe|hoch|hauteur|haut|altura|alto|al)(?![a-z/])\.?"
)
_BY = r"\s*(?:x|\*|\bby\b|\bpar\b|\bpor\b|\bauf\b)\s*"


def _dimension(name: str) -> str:
    return rf"(?:(?P<{name}_pre>{_SIDE})\s*[:=]?\s*)?(?P<{name}>{LENGTH})(?:\s*(?P<{name}_post>\(?\s*{_SIDE}\s*\)?))?"


ROLES = {
    "width": r"width|wide|breite|breit|largeur|larg\b\.?|ancho",
    "height": r"height|hgt\b\.?|ht\b\.?|high|hohe|hoch|hauteur|haut\b\.?|altura|alto",
    "outside_diameter": r"o\.?\s?d\b\.?|outside dia(?:meter|m)?\.?",
    "inside_diameter": r"i\.?\s?d\b\.?|inside dia(?:meter|m)?\.?|clear dia(?:meter|m)?\.?",
    "diameter": r"ø|diameter|diam\b\.?|dia\b\.?|durchmesser|diametre|diametro",
    "radius": r"radius|rad\b\.?|halbmesser|rayon|radio",
    "springline": (
        r"(?:to\s+)?(?:spring\s?-?line|springing(?:\s+line)?|spring\s?(?:pt|point)|spring)(?:\s*(?:height"
        r"|ht)\b\.?)?|ht\.? to spring(?:\s?line)?|kampferhohe|kampfer|naissance|arranque"
    ),
    "rise": r"arch rise|rise|stichhohe|stich|fleche|flecha",
    "sill_height": (
        r"(?:to\s+)?sill(?:\s*(?:height|hgt|ht|elev|el))?\b\.?|sill a\.?f\.?f\b\.?|brustungshohe|brustung"
        r"|brh|allege|antepecho|alfeizar"
    ),
    "head_height": r"(?:to\s+)?(?:head|hd)\b\.?(?:\s*(?:height|hgt|ht))?\b\.?|sturzhohe|sturz|linteau|dintel",
    "overall_height": r"overall(?: height| ht)?|total height|gesamthohe|hauteur totale|altura total",
    "thickness": r"thickness|thick|thk\b\.?|dicke|dick|epaisseur|ep\b\.?|espesor|esp\b\.?",
    "depth": (
        r"treated depth|wall depth|depth|deep|return|reveal|tiefe|tief|laibung|leibung|profondeur"
        r"|prof\b\.?|tableau|profundidad"
    ),
}
ROLE_WORDS = tuple((role, re.compile(pattern)) for role, pattern in ROLES.items())
_ROLE = "|".join(ROLES.values())
LETTERS = {"w": "width", "b": "width", "h": "height", "d": "diameter", "r": "radius"}
_ABOVE = (
    r"(?:\s*(?:a\.?\s?f\.?\s?f\b\.?|above (?:finished? )?(?:floor|grade)|uber (?:okff|fertigfussboden)|ub\. okff))?"
)
BASIS = {
    "masonry": r"m\.?\s?o|masonry opening|masonry opng|masonry opg|masonry|brick opening|structural opening|s\.?o",
    "rough": (
        r"r\.?\s?o|rough opening|rough opng|rough opg|rough|r/o|rohbaumass|rohbaumaß|rohbau|rbm"
        r"|rohbaulichte|hueco de obra|obra|baie brute|gros œuvre|maconnerie|cote maconnerie|albanileria"
    ),
    "nominal": r"nominal|nom|nennmass|nennmaß|nominale?",
    "frame": (
        r"frame size|frame|f\.?\s?s|unit size|unit dimension|unit|net frame|overall frame|rahmenaußenmaß|rahmenmaß"
        r"|rahmenmass|ram|hors tout|cote dormant|dormant|marco"
    ),
    "leaf": r"leaf|panel|slab|turblatt|blattmaß|vantail|hoja",
    "clear": (
        r"clear opening|clear|clr|daylight opening|daylight|d\.?l\.?o|visible glass|lichtmaß|lichte|lichtes "
        r"maß|clair de jour|luz libre|luz"
    ),
}
BASIS_WORDS = tuple((basis, re.compile(pattern)) for basis, pattern in BASIS.items())
_BASIS = "|".join(BASIS.values())
MASTER = re.compile(
    "|".join(
        (
            (
                r"(?P<pairs>\(?(?<![\w.])(?:\(\s*(?P<pairs_b>\d{1,3})\s*\)"
                r"|(?P<pairs_n>\d{1,3}))?\s*(?<![a-z])(?:pairs?|prs?)\b\.?\)?(?:\s*of\b)?)"
            ),
            r"(?P<brackets>\(\s*(?P<brackets_n>\d{1,4})\s*\))",
            r"(?P<times>\(\s*x\s*(?P<times_n>\d{1,4})\s*\))",
            rf"(?P<pair>{_EDGE}{_dimension('first')}{_BY}{_dimension('second')}(?:{_BY}{_dimension('third')})?)",
            r"(?P<nominal>\b(?:nps|dn|ips)\s*-?\s*"
            + rf"{_MIXED}(?![\w/])(?:\s*(?:\"|''|inches\b|inch\b|in\b(?!\s+(?:\d|an?\b))))?(?:\s*sch(?:ed(?:ule)?)?\b\.?\s*\d+s?)?|{_EDGE}{LENGTH}\s*(?:sch(?:ed(?:ule)?)?\b\.?\s*\d+s?|nps\b|ips\b|nominal pipe(?: size)?))",  # noqa: E501
            (
                rf"(?P<before>(?<![a-z])(?P<before_word>{_ROLE}|[wbhdr](?=\s*[=:])|r(?=\s?\d))\s*(?:[:=@]|\bat\b|\bis\b"
                rf"|\bof\b)?\s*(?P<before_length>{LENGTH}){_ABOVE})"
            ),
            (
                rf"(?P<after>{_EDGE}(?P<after_length>{LENGTH})\s*(?:@|\bat\b)?\s*(?P<after_word>{_ROLE}"
                rf"|[wh])(?![a-z])(?!\s*to\b)(?!\s*[:=@]?\s*(?>{LENGTH})(?!\s*(?:{_ROLE}))))"
            ),
            r"(?P<each>(?<![\w.])(?P<each_n>\d{1,4})\s*(?:ea(?:ch)?|pcs?|stk|stuck|off|nos?|thus|uds?|req'?d)\b\.?)",
            rf"(?P<alone>{_EDGE}{_UNITS})",
            rf"(?P<basis>\(?(?<![a-z])(?:{_BASIS})\b\.?\)?)",
        )
    )
)
BARE = re.compile(rf"(?<![\w/.,'\"-])(?:{_DASHED}|{_MIXED})(?![\w/.'\"])")
UNIT_TAIL = re.compile(r"(?:mm|cm|dm|\bm|(?<=\d)m|\"|inches|inch|in)\.?$")
