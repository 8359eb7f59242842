"""How a figure was reached: a step, and below it the steps that it stands on."""

from __future__ import annotations

from typing import Annotated, NotRequired, TypedDict

from estimating.outputs.documents.scalars import Day, Exact, Id, Layer


class DerivationSource(TypedDict):
    """Where a value was entered: in the request or a schedule line (`pointer`), in a row of an edition, or nowhere."""

    pointer: NotRequired[Annotated[str, "in the request (RFC 6901)"]]
    mark: NotRequired[Annotated[str, "of a schedule line"]]
    table: NotRequired[Annotated[str, "of the edition"]]
    row: NotRequired[Annotated[str | None, "code of the row; null in the production table"]]
    field: NotRequired[Annotated[str, "path of the field in the row"]]
    value: NotRequired[Annotated[Exact, "as it stands there"]]
    edition: NotRequired[Id]
    number: NotRequired[int]
    effective_from: NotRequired[Day]
    layer: NotRequired[Layer]
    constant: NotRequired[Annotated[str, "a number of the rule itself"]]


class DerivationInput(TypedDict):
    """One input of a step: a figure of its own, or a value that was entered."""

    name: str
    value: Exact
    unit: str
    printed: Annotated[str, "as the answer prints it, with its unit"]
    figure: NotRequired[Annotated[str, "its own name: ask for its derivation by it"]]
    source: NotRequired[DerivationSource]
    term: NotRequired[Annotated[int, "inputs of one number belong together"]]
    node: NotRequired[Derivation]


class Derivation(TypedDict):
    """One step: the value follows from the inputs by the rule alone."""

    figure: str
    title: str
    formula: str
    rule: str
    value: Exact
    unit: str
    printed: Annotated[str, "as the answer prints it, with its unit"]
    inputs: list[DerivationInput]
