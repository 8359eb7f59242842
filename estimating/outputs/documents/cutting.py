"""The cut plan and the purchase list of an estimate."""

from __future__ import annotations

from typing import Annotated, NotRequired, TypedDict

from estimating.outputs.documents.parts import PackCount
from estimating.outputs.documents.scalars import Day, Length, Money, Number, Percent, Role

Proof = Annotated[str, "what the least number of rolls is proven by"]


class PlannedMaterial(TypedDict):
    """The rolls of one mesh or tape. Of several sizes proof and gap are of what they cost."""

    material: Annotated[str, "its code"]
    title: str
    part: NotRequired[Annotated[str, "of a season split"]]
    pieces: Annotated[int, "lengths cut, those that are joined counted one by one"]
    rolls: Annotated[int, "new rolls"]
    sizes: Annotated[list[PackCount], "new rolls by size"]
    from_stock: Annotated[int, "rolls on hand that are cut"]
    least_rolls: Annotated[int, "no plan has fewer new rolls"]
    proven: Annotated[bool, "whether no plan costs less: the rolls are the least"]
    proof: Proof
    gap_percent: Annotated[Percent, "what the plan may cost over the least, of the least"]
    fewest_found: Annotated[int | None, "rolls of a plan of the exact model that has fewer; it decides no price"]
    bought: Annotated[list[PackCount], "what the estimate buys, by the cut plan or by a waste percentage"]
    longest_rest: Annotated[Length, "what the roll that leaves most leaves"]
    longest_rest_shown: Annotated[str, "in the company's length style"]


class CutOnRoll(TypedDict):
    """Pieces of one size, one after the other on one lane of a roll, or of several rolls that are cut alike."""

    material: str
    part: NotRequired[Annotated[str, "of a season split"]]
    first_roll: Annotated[int, "number of the roll, from 1 in each material"]
    last_roll: Annotated[int, "of those that are cut alike"]
    roll: Annotated[str, "its size, or stock"]
    lane: Annotated[str, "which of how many lanes side by side, such as 1/2"]
    start: Annotated[Length, "running mark where the first piece starts, from the roll's end"]
    end: Annotated[Length, "running mark where the last piece ends"]
    start_shown: Annotated[str, "in the company's length style"]
    end_shown: str
    pieces: Annotated[str, "what the length is for"]
    length: Annotated[Length, "of one piece, rounded up to what lengths are cut to"]
    length_shown: str
    width: Length
    width_shown: str
    count: Annotated[int, "of them on one roll"]
    rest: Annotated[Length, "what is left at the end of the roll"]
    rest_shown: str


class Bundle(TypedDict):
    """Pieces of one size that are tied together for the openings of one mark in one zone."""

    elevation: str | None
    storey: str | None
    mark: str
    material: str
    piece: str
    length: Annotated[Length, "rounded up to what lengths are cut to"]
    length_shown: str
    width: Length
    width_shown: str
    count: int
    joined: Annotated[int, "lengths that one piece is joined of, lapped; 1: it is whole"]


class CutPlan(TypedDict):
    """How mesh and tape are cut from rolls: pieces of all marks together, bundled by elevation and storey after it."""

    cut_to: Annotated[Length, "what lengths are rounded up to"]
    cut_to_shown: Annotated[str, "in the company's length style"]
    materials: list[PlannedMaterial]
    items: Annotated[list[CutOnRoll], "roll by roll"]
    bundles: list[Bundle]
    cautions: Annotated[list[str], "those of the estimate"]


class PackMix(TypedDict):
    """Whole packs of one size that cover the need too."""

    packs: list[PackCount]
    left_over: Number
    amount: NotRequired[Annotated[Money, "of these packs"]]


class PurchaseLine(TypedDict):
    """One material to buy, in `unit`: packs of the least cost, or rolls of the cut plan."""

    code: str
    title: str
    role: Role
    part: NotRequired[Annotated[str, "of a season split"]]
    net: Annotated[Number, "before waste"]
    waste: Annotated[str, "what is added for waste, or that a cut plan stands in its place"]
    gross: Annotated[Number, "with waste, before stock"]
    stock: Annotated[Number, "on hand, used first"]
    needed: Annotated[Number, "to buy at least"]
    unit: str
    packs: list[PackCount]
    left_over: Number
    need_by: Annotated[Day, "the first day that the calendar of the request uses it; the work date without one"]
    order_by: Annotated[Day | None, "that day less the lead time; null: no lead time is stated"]
    lead_days: int | None
    buy_after: Annotated[Day | None, "bought earlier it may be past its shelf life on the last day that it is used"]
    shelf_life_days: int | None
    storage: str | None
    price_source: NotRequired[Annotated[str | None, "where the price came from; for who may see costs"]]
    priced_on: NotRequired[Annotated[Day, "day of the price, else of the edition"]]
    amount: NotRequired[Annotated[Money, "of the packs"]]
    alternatives: NotRequired[Annotated[list[PackMix], "of one size alone"]]
    cost_code: str | None
