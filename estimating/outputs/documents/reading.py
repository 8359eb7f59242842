"""What was read of an opening schedule."""

from __future__ import annotations

from typing import Annotated, Any, NotRequired, TypedDict

from estimating.intake.asking import SEVERITIES
from estimating.intake.edits import APPLIED, KINDS, WAITING, WITHOUT_LINE
from estimating.outputs.documents.estimate import AlternateOpenings, SetAside
from estimating.outputs.documents.scalars import Id, Moment, Named

QuestionSeverity = Annotated[str, Named("QuestionSeverity", words=SEVERITIES)]
EditKind = Annotated[str, Named("EditKind", words=KINDS)]
EditState = Annotated[str, Named("EditState", words=(APPLIED, WAITING, WITHOUT_LINE))]


class Question(TypedDict):
    """What the schedule leaves unknown or doubtful."""

    id: str
    code: Annotated[str, "a stable word for its kind"]
    severity: QuestionSeverity
    sentence: str
    choices: Annotated[list[str], "what answers it"]
    choices_shown: Annotated[list[str], "the choices in the company's length style"]
    open_answer: Annotated[str, "what else answers it; blank: nothing"]
    cells: Annotated[list[str], "where it arose"]
    lines: Annotated[list[int], "the lines that it is about, from 0; the first of many"]
    answer: str | None
    open: bool
    proposed: NotRequired[Annotated[str | None, "what an earlier rule proposes; it is the first choice"]]
    rule: NotRequired[Annotated[str, "id of the rule that answered"]]
    openings: NotRequired[Annotated[int | None, "how many its lines count"]]
    answered_by: NotRequired[str]
    answered_at: NotRequired[str]


class ReadField(TypedDict):
    """One field of a line."""

    value: Annotated[Any, "as an opening line has it"]
    cell: Annotated[str, "where it was read"]
    written: NotRequired[Annotated[str, "as it stands there, where that differs"]]
    shown: NotRequired[Annotated[str, "a length in the company's length style"]]


class ReadLine(TypedDict):
    """What was read for one line."""

    line: Annotated[int, "from 0"]
    mark: str
    cell: str
    fields: Annotated[dict[str, ReadField], "by the fields of an opening line"]


class UnreadLines(TypedDict):
    """Lines that can't be priced before a question is answered."""

    lines: int
    openings: int


class OpenQuestions(TypedDict):
    """How many questions are open, by severity."""

    blocks_costing: int
    blocks_issue: int
    to_know: int


class FileScope(TypedDict):
    """What becomes of the openings of a file."""

    in_file: Annotated[int, "openings; the sum of priced, set_aside, alternates and unread"]
    priced: int
    set_aside: list[SetAside]
    alternates: list[AlternateOpenings]
    unread: UnreadLines
    questions: OpenQuestions


class Note(TypedDict):
    """A row that is no line."""

    cell: str
    text: str


class TableColumn(TypedDict):
    """What a column was taken for."""

    column: Annotated[str, "its letters"]
    heading: str
    field: Annotated[str, "the field of a line, with its unit; blank: none"]


class ReadTable(TypedDict):
    """A table of the file."""

    sheet: str
    heading_row: int
    fingerprint: str
    repeated_headings: int
    columns: list[TableColumn]


class Apart(TypedDict):
    """What is reported and not counted: curtain walls, holes that nothing fills, skylights …"""

    what: str
    mark: NotRequired[str]
    kind: NotRequired[str]
    count: NotRequired[int]
    storey: NotRequired[str]
    width: NotRequired[str]
    height: NotRequired[str]
    external: NotRequired[bool | None]
    line: NotRequired[int]
    host: NotRequired[str]


class AnsweringRule(TypedDict):
    """A rule that answers questions of a code, wherever its conditions hold."""

    id: str
    code: str
    column: NotRequired[str]
    elevation: NotRequired[str]
    storey: NotRequired[str]
    height_from: NotRequired[str]
    height_to: NotRequired[str]
    mark_prefix: NotRequired[str]
    answer: str
    by: Id
    by_name: str
    at: Moment


class LineEdit(TypedDict):
    """A person's change of one line."""

    id: str
    kind: EditKind
    values: Annotated[dict[str, Any], "fields that got values; null: taken away"]
    reason: str
    by: Id
    by_name: str
    at: Moment
    identity: Annotated[str, "what the line is kept by"]
    nth: int
    print: Annotated[str, "digest of what the file says of the line"]
    file: Annotated[str, "digest of the file"]
    before: Annotated[dict[str, Any], "the values that it replaced"]
    state: EditState
    line: Annotated[int, "from 0 in this revision, -1 for none"]


class ReadingReport(TypedDict):
    """What became of a file, beside its lines."""

    scope: FileScope
    format: Annotated[str, "what the file was taken for"]
    notes: list[Note]
    tables: list[ReadTable]
    apart: list[Apart]
    clouds: Annotated[list[str], "marks that the drawing issue clouds"]
    rules: list[AnsweringRule]
    edits: list[LineEdit]


class ChangedLine(TypedDict):
    """One of the lines that answers would change, with the fields that differ."""

    line: int | None
    mark: str
    cell: str
    before: dict[str, Any]
    after: dict[str, Any]
