"""Fields and values of assumptions as people of the trade say them: the words that the forms of site and crew use.

The codes stand beside them in every document, so that a program needs no sentence.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from rates.core.fields import Field

CODE = re.compile("[a-z]+(?:_[a-z]+)*")

SUBSTRATES: Mapping[str, str] = {
    "gypsum_sheathing": "gypsum sheathing",
    "osb": "OSB",
    "cmu": "concrete block (CMU)",
}
CONDITIONS: Mapping[str, str] = {"temperature": "Temperature", "congestion": "Room to work", "rework": "Rework"}
# what is left open, by the name of the field; what is not here is told by the field table's own words
FIELDS: Mapping[str, str] = {
    "units": "the units of the estimate",
    "mobilisations": "how often the crew comes and sets up",
    "allocate_by": "how the price is shared over the marks",
    "quantities_from": "what decides how much mesh and tape is bought",
    "only_external": "whether openings known to be interior are left out",
    "empty_price": "the price where nothing is to be done",
    "experience": "how experienced the crew is",
    "crews": "how many crews share the openings",
    "scope": "what this part of the work does",
    "beads": "how many beads of sealant go around an opening",
    "corners": "the length of corner joints",
    "terminations": "the length of terminations",
    "deflection": "the length of deflection joints",
    "quantity": "for how many openings more or fewer a unit price holds",
    "sales_tax_by": "whether sales tax is rounded once or item by item",
    "fringe": "the fringe for an hour",
    "burden": "the payroll burden",
    "fringe_paid": "whether fringe goes to a plan or is paid in cash",
    "overtime_multiplier": "by how much overtime multiplies the wage",
    "productive_share": "how much of a paid hour is worked",
    "waste": "the waste",
    "price_as": "whether whole packs are priced or the share that is used",
    "delivery": "what delivery and pickup cost",
    "days_from": "by which days it is rented",
    "minimum": "the fewest minutes that an opening takes",
    "fixed": "the minutes that every opening takes, whatever its size",
    "mobilisation": "the worker-hours of set-up for each mobilisation",
    "elevation": "the worker-hours of set-up for each elevation",
    "storey_change": "the worker-hours of set-up for each change of storey",
    "extra_strip_minutes": "the minutes for each strip past the first",
    "arch_factor": "the factor on the length of a head arc",
    "collar_factor": "the factor on the perimeter of a round opening",
}
VALUES: Mapping[tuple[str, str], str] = {
    **{("substrate", code): said for code, said in SUBSTRATES.items()},
    ("method", "fluid"): "fluid-applied",
    ("size_basis", "rough"): "rough openings",
    ("allocate_by", "own_use"): "by what each mark uses",
    ("allocate_by", "touch_minutes"): "by working minutes",
    ("quantities_from", "waste"): "the waste percentages of the rates",
    ("quantities_from", "cut_plan"): "whole rolls by the cut plan",
    ("only_external", "no"): "no, they are priced",
    ("empty_price", "zero"): "none",
    ("empty_price", "minimum"): "the minimum charge",
    ("scope", "openings_and_joints"): "openings and sheathing joints",
    ("sides", "all"): "all sides",
    ("access", "ground"): "from the ground",
    ("elevation", "blank"): "all without one count as one",
    ("storey", "blank"): "all without one count as one",
    ("rounding", "half_up"): "half a cent goes up",
    ("sales_tax_by", "invoice"): "once for the invoice",
    ("sales_tax_by", "item"): "item by item",
    ("fringe_paid", "plan"): "to a plan",
    ("fringe_paid", "cash"): "in cash",
    ("price_as", "bought"): "whole packs",
    ("price_as", "used"): "the share used",
    ("days_from", "touch"): "by working minutes",
    ("temperature", "none"): "not stated",
    ("congestion", "none"): "not stated",
    ("rework", "none"): "not stated",
    ("perimeter_seal", "none"): "not asked for",
    ("sheathing_joints", "none"): "not asked for",
}


def field_said(name: str, field: Field) -> str:
    """What a field that is left out leaves open."""
    return FIELDS.get(name) or field.doc or name.replace("_", " ")


def value_said(field: str, value: str) -> str:
    """An assumed value, by the field that it stands in."""
    name = field.rpartition("/")[2]
    return VALUES.get((name, value)) or (value.replace("_", " ") if CODE.fullmatch(value) else value)
