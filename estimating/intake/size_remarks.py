"""Words beside a line that say what its size is of, or that it does not stand: frame size, size varies, swap w & h.

Common practice, no source. English, German, French, Spanish. A size that is named in words is read elsewhere; here the
line's own is in doubt.
"""

from __future__ import annotations

import re
from functools import lru_cache

from estimating.intake.folding import compose, fold

BASIS, CHANGED = "size_basis_of_line", "words_beside_size"
_SIZE = r"(?:sizes?|dims?\b\.?|dimensions?|widths?|heights?|measures?|measurements?)"
_OF = (
    r"(?:frames?|units?|nominal|nom\b\.?|masonry|m\.?o\.?|leaf|leaves|panels?|slabs?|sash|glass|daylight|d\.?l\.?o\.?"
    r"|finish(?:ed)?|net|clear|window|door|rahmen|flugel|glas|dormant|vitrage|marco|hoja|vidrio)"
)
_IS = r"(?:is|are|=|:|of|to|per|shown is|shown are|given is)"
_ONE = r"(?:each|ea\.?|per|one)"  # a single door is a type
_OF_ONE = r"(?:leaf|panel|slab|sash|lite|light)"
_REPEATED = r"(?:floors?|levels?|side|sides|elev\w*|storey|story|building|bldg)"
_SURE = re.compile(
    rf"\b(?:frame|unit|nominal|nom\.?|masonry|leaf|panel|slab|sash|finish(?:ed)? opening) {_SIZE}"
    rf"|\b{_SIZE}\s*{_IS}\s*(?:the |that of the |of the |of |each |one |a )*{_OF}\b"
    r"(?!\s*(?:schedule|types?|details?|plan))"
    r"|(?<![\d\"'] )(?<!in )(?<!mm )\bnom(?:inal|\.)\s*\)?$"
    rf"|\bbasis\s*:\s*{_OF}\b"
    rf"|\b{_SIZE}\s*{_IS}\s*(?:to )?(?:the )?(?:in|out)side (?:face |edge )?of (?:the )?(?:frame|jamb|unit)s?\b"
    r"|(?<!in )(?<!at )(?<!of )(?<!to )\b(?:masonry|brick|finish(?:ed)?) opening\b"
    r"(?! (?:details?|dtl|flashing|lintel|per|see))"
    rf"|\b{_SIZE}\s*(?:{_IS}\s*)?(?:the |of |for |per )*(?:each|ea\b\.?|one\b|single\b)(?! {_REPEATED})"
    r"|\b(?:je|pro|ein(?:es|en)?) flugels?\b|\b(?:par|chaque|d'un) vantail\b|\b(?:por|cada|de una) hoja\b"
    r"|\b(?:rahmen|rahmenau(?:ss|ß)en|blendrahmen|glas|nenn|flugel|element)ma(?:ss|ß)e?\b"
    r"|\b(?:cotes?|dim(?:ensions?)?\.?|mesures?) (?:de |du |d')?"
    r"(?:dormant|vitrage|vantail|nominales?|hors tout|passage|menuiserie|chassis|cadre)\b"
    r"|\b(?:medidas?|dimensiones|cotas?) (?:de |del )?(?:marco|hoja|vidrio|carpinteria|nominal(?:es)?|cerco)\b"
)
_OF_EACH = re.compile(
    rf"(?:^|[,;:(-]|\bdoors?\b|\bwindows?\b)\s*(?:of |for )?{_ONE} (?:active |door )?{_OF_ONE}(?: only)?\s*\)?$"
    rf"|(?:^|[,;:-]\s*){_ONE} (?:unit|window|door)(?: only)?$"
)  # at the end of a remark
_WHOLE = re.compile(
    rf"(?:{_OF}\s*{_SIZE}|{_OF}\s*(?:o\.?\s?d\.?|overall)"
    r"|(?:clear|daylight|glass|net clear|leaf|frame|unit|window|door) (?:opening|opng)|net|b\.?m\.? (?:size|dim\.?)"
    r"|brick ?mou?ld(?: (?:size|dim|to brick ?mou?ld))?"
    r"|(?:clr|clear)\.? (?:opening|opng|opg|op|size|dims?)\.?|clr|o\.?\s?d\.?(?: (?:sizes?|dims?))?"
    r"|m\.?\s?o\.?|d\.?l\.?o\.?|nominal|nom\.?|(?:mas|fin|br)\.? (?:op|opg|opng)|(?:in|out)side dim(?:ension)?s?"
    r"|clair de (?:jour|vitrage)|tableau fini|luz libre|hueco de paso"
    r"|lichtes? ma(?:ss|ß)|lichtma(?:ss|ß))(?: only)?"
)  # as the whole of a remark
_VARIES = (
    r"(?:varies|vary|var\b|differs?|changes?|tbd\b|unknown|not known|wrong|incorrect|approx|swapped|reversed|switched"
    r"|to be (?:determined|confirmed))"
)
_PART = r"(?:transoms?|sidelites?|sidelights?|side lites?|toplights?|fanlights?)"
_WITH = (
    r"(?:incl(?:\.|uding|udes|uded|usive)?|excl(?:\.|uding|udes|uded|usive)?|plus|w/o|without"
    r"|not incl(?:\.|uding|uded)?)"
)
_LENGTH = r"(?:\d[\d/ .-]*\s*(?:\"|''|'|\bin\b|\binch|\bmm\b|\bcm\b|\bft\b|-)|\d+(?:/\d+)?\s*x\s*\d)"
_ELSEWHERE = (  # where a size stands that the line has no more than a place for
    r"(?:shops?|manufacturers?|mfrs?|mfgr?|suppliers?|vendors?|details?|dtls?|elev\w*|plans?|dwgs?|drawings?|field|others)\b"
)
_GROWN = r"(?:(?:over|under)-? ?sized?|wider|narrower|taller|shorter|longer|larger|bigger|smaller|higher|deeper)"
_RESIZED = r"(?:widen(?:ed)?|narrowed|lengthen(?:ed)?|shorten(?:ed)?|enlarged?|reduced?)(?: (?:opening|opng|r\.?o\.?))?"
_AROUND = r"(?:(?:on |at )?(?:each|ea\.?|all|both|either) (?:sides?|ways?|ends?|around)|all (?:a)?round|w|h|wide|high)"
_CHANGE = re.compile(
    rf"\b{_SIZE}\s*(?:(?:may|will|to|can)\s+)?{_VARIES}"
    rf"|\b(?:wrong|incorrect|various|varying|different|approx(?:imate)?\.?|odd) {_SIZE}"
    r"|\b(?:swap|switch|reverse|flip|exchange|transpose)(?:d|ped|ed)?\b.{0,12}"
    r"\b(?:w|h|width|height|dims?|dimensions|sizes?)\b"
    r"|\b(?:w|width)\s*(?:&|and|/|x)\s*(?:h|height) (?:are |is )?(?:swapped|reversed|switched|flipped|transposed)\b"
    rf"|\b{_WITH}\s*(?:of )?(?:the |a )?{_PART}\b"
    r"|\b(?:inkl|einschl|zzgl|exkl|ohne)\.? (?:oberlicht|seitenteil)"
    r"|\b(?:see|refer|per|check|from|siehe|voir|ver)\b[^.;]{0,40}\b(?:for|fur|pour|para) (?:r\.?\s?o\.? |rough )?"
    rf"{_SIZE}"
    rf"|\b{_SIZE}\s*(?:as )?(?:per|by|from|see|on)\s+(?:the )?{_ELSEWHERE}"
    rf"|\br\.?\s?o\b\.?\s*[-+±]\s*{_LENGTH}|^[-+±]\s*(?:\d+ )?\d+/\d+\"?$|\br\.?\s?o\b\.?\s*="
    rf"|^[-+±][-+/ ]*(?:{_LENGTH}|\d+/\d)[-\d/' \"]*(?:in\b\.?)?\s*{_AROUND}?$"
    rf"|^{_LENGTH}['\"\d/ ]*(?:less|more|{_GROWN})$"
    rf"|^(?:{_GROWN}|{_RESIZED})$|\b(?:raise|lower|drop)[a-z]* (?:the )?(?:sill|head|hd|opening|opng)?s? ?{_LENGTH}"
    rf"|{_LENGTH}\s*(?:high |wide |tall )?{_PART}|\b{_PART}\s*(?:of |at |= ?)?{_LENGTH}"
    rf"|\br\.?\s?o\b\.?\s*(?:as )?(?:per|by|from)\s+(?:the )?{_ELSEWHERE}"
    rf"|\b(?:now|should be|changed? to|revised? to)\s+{_LENGTH}"
    rf"|\b(?:reduce|increase|trim|cut|enlarge|widen|raise|lower|drop)[a-z]*\b[^.;]{{0,20}}?\b(?:to|by)\s+{_LENGTH}"
    r"|(?<!sill )(?<!head )\b(?:w|h|wd|ht|hgt|width|height)\s*[=:]\s*\d|^(?:actual|net|clear|true|exact)\s+\d"
    r"|\b(?:incl(?:\.|uding|udes|uded)?|excl(?:\.|uding)?|plus|w/o?|with(?:out)?) (?:the )?(?:frames?|bucks?)$"
    r"|\bimposte (?:comprise|incluse|non comprise|en sus)"
    rf"|(?<!in )(?:\bw/|\bwith\b|\band\b|&|\+)\s*(?:(?:{_LENGTH}|\d+|[a-z]+)[\"'\d/ ]*\s*)?{_PART}\b"
    rf"(?! (?:bars?|brackets?))|\b\d{{1,2}} {_PART}\b|\b{_PART} (?:above|over|at head|extra|additional)\b"
    rf"|\b{_PART} (?:on |at )?(?:each|ea\.?|both|one) sides?\b|\blea(?:f|ves) (?:of |at |= ?)?{_LENGTH}"
    rf"|{_LENGTH}\s*(?:wide )?(?:each |ea\.? )?(?:in)?(?:active )?lea(?:f|ves)\b(?! thick)"
    rf"|(?:\bnot\b|\bexcl\.?|\bexcluded)(?: incl(?:\.|uded)?)? (?:in|from|of) (?:the )?"
    r"(?:sizes?|dims?|dimensions?|r\.?o\b\.?|widths?|heights?|ht|hgt|wd|w|h)\b"
    rf"|\b{_PART}\b[^.;]{{0,20}} not (?:included|incl\b|in)"
    r"|\b(?:mit|samt|plus) (?:\w+ )?(?:oberlicht|seitenteil)|\bavec (?:\w+ )?(?:imposte|chassis lateral)"
    r"|\bcon (?:\w+ )?(?:montante superior|fijo lateral|fijos laterales)"
    r"|\b(?:masse?|maße?|große?|grosse) (?:variier|falsch|vertauscht|unklar|offen)|\bbreite und hohe vertauscht"
    r"|\b(?:dimensions?|cotes?|largeur|hauteur) (?:variables?|a definir|inversees?|fausses?)"
    r"|\b(?:medidas?|ancho|alto) (?:variables?|por definir|invertid[ao]s?)"
)
_ADDED = re.compile(
    rf"\b(?:add|allow|deduct|subtract|increase|reduce|enlarge)\b[^.;]{{0,30}}?{_LENGTH}"
    rf"|\b(?:over|under)-? ?sized?\b[^.;]{{0,30}}?(?:{_LENGTH}|\d/\d)"
    rf"|{_LENGTH}[^.;]{{0,12}}\b(?:larger|smaller|wider|narrower|taller|shorter|over ?size|all (?:a)?round)\b"
    rf"|\b(?:plus|less|minus)\s+{_LENGTH}"
)  # to the sizes of the lines, or from them
_COUNTED = re.compile(
    r"\b(?:qty|quantity|count|number|anzahl|menge|quantite|cantidad)\b[^;]{0,25}?\b\d{1,5}\b(?!\s*(?:\"|'|/|mm|in\b))"
    r"|\b(?:add|delete|deduct|omit)\s+\(?\d{1,3}\)?\s+(?!\d|in\b|mm\b|ft\b|inch|coats?|layers?|\"|'|/)"
    r"|\b(?:now|should be|change(?:d)? to|revise(?:d)? to)\s+(?:qty\s+)?\d{1,5}\b(?!\s*(?:\"|'|/|-|x|mm|in\b))"
)
_SIZED = re.compile(
    rf"\b(?:r\.?\s?o\b\.?|opening|width|height|size|wide|high|tall|w|h)\b[^.;]{{0,25}}?{_LENGTH}"
    rf"|{_LENGTH}\s*(?:(?:wide|high|tall)\b|x\s*\d)|\b(?:now|should be|change(?:d)? to|revise(?:d)? to)\s+{_LENGTH}"
)
_MATERIAL = re.compile(
    r"\b(?:over)?lap(?:s|ped|ping)?\b|\b(?:backer|sealant|caulk|beads?|tape|mesh|membrane|flashing|joints?|blocking|insulation|drip)\b"
)  # what an added length is of, where it is none of the opening
_SILL = re.compile(r"\b(?:sills?|heads?|a\.?f\.?f|above|mounting|mounted)\b")
_ORDER = re.compile(r"\b(?:h|height|hoch|hohe)\s*x\s*(?:w|width|breit|breite)\b|\bheight (?:by|first)\b")


@lru_cache(maxsize=20_000)
def names_part(text: str) -> bool:
    """Whether words name a transom or sidelites and nothing else, which a door's size may hold or not."""
    plain = " ".join(fold(compose(text[:400])).split()).strip(" .()")
    return bool(re.fullmatch(rf"(?:(?:fixed|glazed|glass|solid) )?{_PART}(?: (?:glazed|glass|panels?))?", plain))


@lru_cache(maxsize=20_000)
def size_in_doubt(text: str) -> str:
    """The code of what words say of the line's size: that it is not the rough one, or may not stand; else blank."""
    plain = " ".join(fold(compose(text[:400])).split())
    added = _ADDED.search(plain) and not (_MATERIAL.search(plain) or _SILL.search(plain))
    if _CHANGE.search(plain) or _ORDER.search(plain) or added:
        return CHANGED
    whole = plain.strip(" .()")
    return BASIS if _SURE.search(plain) or _OF_EACH.search(whole) or _WHOLE.fullmatch(whole) else ""


@lru_cache(maxsize=4096)
def size_in_note(text: str) -> str:
    """The same of a note over or below the lines: WINDOW SIZES is a title there, an order is read elsewhere."""
    plain = " ".join(fold(compose(text[:400])).split())
    added = _ADDED.search(plain) and not _MATERIAL.search(plain)
    return CHANGED if _CHANGE.search(plain) or added else BASIS if _SURE.search(plain) else ""


@lru_cache(maxsize=4096)
def value_in_note(text: str) -> str:
    """The code of a count or a size that a note gives the lines it names: W1 qty now 6; blank where it gives none."""
    plain = " ".join(fold(compose(text[:400])).split())
    if _COUNTED.search(plain):
        return "count_words"
    return CHANGED if _SIZED.search(plain) and not (_SILL.search(plain) or _MATERIAL.search(plain)) else ""
