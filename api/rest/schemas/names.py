"""Names of enumerations that stand at several places, and what components say of themselves."""

from __future__ import annotations

from collections.abc import Collection

from estimating.change_words import BASES as CHANGE_BASES
from estimating.change_words import NOTICE_STATES, REVISED
from estimating.change_words import UNITS as CHANGE_UNITS
from estimating.core.job_progress import SET_UP, STEPS
from estimating.core.kinds import BARRIERS, METHODS, OPENING_KINDS
from estimating.core.notice import COUNTED_IN
from estimating.core.request_calendar import WEEKDAYS
from estimating.core.request_reading import LENGTH_UNITS, SCOPES, UNITS
from estimating.core.schedule_lines import ALTERNATE_KINDS
from estimating.core.shapes import SIDES
from estimating.intake.asking import SEVERITIES
from estimating.outputs.assumptions.item import MOVES, SOURCES
from estimating.outputs.documents.scalars import RUN_STATES
from estimating.queries.bids_due import WAITS
from estimating.queries.history.entries import Kind
from estimating.queries.quotes import BASES
from estimating.queries.quotes import STATES as QUOTE_STATES
from estimating.queries.sign_offs import STATES as SIGN_OFF_STATES
from estimating.states import ChangeOrderState, ProjectState
from rates.core.card import SALES_TAX_BY, TABLES
from rates.core.currencies import MINOR_DIGITS
from rates.core.layers import LAYERS
from rates.core.length_styles import STYLES
from rates.core.money import ROUNDINGS
from rates.core.production import SHAPES, SILLS
from rates.core.steps import ALL_BASES, ROW_STEPS, STEP
from rates.core.tables import ACCESS, PERIODS, ROLES, SUBSTRATES
from rates.roles import SCOPES as RIGHTS
from rates.roles import Role

WORDS: dict[str, Collection[str]] = {
    "Access": ACCESS,
    "WallBarrier": BARRIERS,
    "Method": METHODS,
    "RequestMethod": (*METHODS, "by_line"),
    "OpeningKind": OPENING_KINDS,
    "LengthUnit": LENGTH_UNITS,
    "UnitSystem": UNITS,
    "Side": SIDES,
    "QuestionSeverity": SEVERITIES,
    "AssumptionSource": SOURCES,
    "MovesPrice": MOVES,
    "RunState": RUN_STATES,
    "SalesTaxBy": SALES_TAX_BY,
    "RateTable": TABLES,
    "Layer": LAYERS,
    "Shape": SHAPES,
    "SillKind": SILLS,
    "OverheadStep": ROW_STEPS,
    "BuildUpStep": STEP,
    "Base": ALL_BASES,
    "RentalPeriod": PERIODS,
    "MaterialRole": ROLES,
    "Substrate": SUBSTRATES,
    "PartScope": SCOPES,
    "Role": Role.values,
    "Attribution": ("even_handed", "in_order"),
    "Rounding": ROUNDINGS,
    "Confidence": ("counted", "scaled", "assumed"),
    "WasteKind": ("added", "lost"),
    "BurdenBase": ("wage", "straight_wage", "cash_wage"),
    "ProfitKind": ("markup", "margin"),
    "LearningModel": ("none", "exponential", "unit_curve", "cumulative_average"),
    "PrimerPlace": ("edge", "bonded_area"),
    "ConsumablePer": ("opening", "crew_day"),
    "LengthStyle": STYLES,
    "EditionState": ("draft", "submitted", "approved", "withdrawn"),
    "Right": RIGHTS,
    "QuoteState": QUOTE_STATES,
    "QuoteBasis": BASES,
    "RequoteBasis": BASES[1:],
    "SignOffState": SIGN_OFF_STATES,
    "BidStep": WAITS,
    "Currency": MINOR_DIGITS,
    "ProjectState": ProjectState.values,
    "HistoryKind": [str(kind) for kind in Kind],
    "ChangeOrderState": ChangeOrderState.values,
    "ChangeOrderStep": (*ChangeOrderState.values, REVISED),
    "ChangeOrderBasis": CHANGE_BASES,
    "ChangeOrderUnit": CHANGE_UNITS,
    "NoticeState": NOTICE_STATES,
    "NoticeDays": COUNTED_IN,
    "AlternateKind": ALTERNATE_KINDS,
    "Weekday": WEEKDAYS,
    "DegreesIn": ("f", "c"),
    "SiteStep": (*STEPS, SET_UP),
}
ENUMERATIONS = {frozenset(words): name for name, words in WORDS.items()}
assert len(ENUMERATIONS) == len(WORDS), "two enumerations have the same words"
ABOUT = {
    "Access": "how an opening is reached",
    "Currency": "ISO 4217",
    "ProjectState": "archived: kept, and out of the lists that do not ask for it",
    "WallBarrier": "the field water-resistive barrier",
    "Method": "fluid-applied flashing or tape",
    "RequestMethod": "fluid-applied flashing, tape, or as each line says",
    "OpeningKind": "what goes into the opening",
    "LengthUnit": "unit of bare numbers",
    "UnitSystem": "units of an answer",
    "Side": "a side of an opening",
    "SalesTaxBy": "sales tax once on the invoice, or rounded item by item",
    "RateTable": "a table of an edition",
    "Shape": "the outline of an opening",
    "SillKind": "the sill as drawn",
    "Base": "what a percentage stands on",
    "Substrate": "what a rough opening is cut in",
    "Right": "what an access key may do",
    "Role": "of a member",
    "Attribution": "how the change goes to causes",
    "Length": "a length as text with its unit (36 in, 3'-0 1/2\", 914 mm), or a bare number in `length_unit`",
    "RunState": "where a run stands",
    "MaterialRole": "what a material does",
    "BuildUpStep": "a step from labour to price",
    "AssumptionSource": "where a value came from that is left out; request: entered for all openings at once",
    "MovesPrice": "whether another value would move the price, as far as it is known",
    "Layer": "project over branch over company",
    "QuestionSeverity": "what a question stands in the way of: costing, issue, nothing",
    "QuoteState": "where a quote stands; an issued one expires after its last day",
    "ChangeOrderState": "where a change order stands; agreed and withdrawn are final",
    "ChangeOrderBasis": "what a change order is priced by",
    "ChangeOrderUnit": "what a line counts",
    "ChangeOrderStep": "a state that it came to, or revised",
    "NoticeState": "whether the customer was told in time",
    "NoticeDays": "every day, or Monday to Friday without holidays",
    "QuoteBasis": "what the price of a quote stands on",
    "RequoteBasis": "what the price of a quote on another drawing stands on",
    "SignOffState": "whether a person stands behind an assumption",
    "BidStep": "what a bid waits for",
    "Area": "an area as text with its unit (2000 ft2, 186 m2)",
    "Coverage": "an area for each volume, as the data sheet says (75 ft2/gal)",
    "Decimal": "an exact decimal, as text or a number",
    "Percentage": "a percentage, as text or a number: 12 is 12 %",
}
