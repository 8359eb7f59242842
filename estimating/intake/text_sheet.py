"""A text as a sheet: CSV by its delimiter, columns held apart by spaces, or a list as pasted from a drawing."""

from __future__ import annotations

import re
from collections.abc import Sequence

from estimating.core.schedule import MOST_LINES
from estimating.intake.aligned_text import is_heading_line, plain_cells, split_aligned
from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.encodings import Decoded, decode_any
from estimating.intake.headings import is_value
from estimating.intake.loose_quotes import QUOTES, with_ditto_quoted, with_inches_quoted
from estimating.intake.meanings import carries
from estimating.intake.pasted import read_list, read_words_of_line
from estimating.intake.spaced_text import split_spaced
from rates.core.grid import GridRow, Sheet
from rates.core.jsonplaces import Lines
from rates.core.problems import Problem, Refused
from rates.sheets.csv_reading import read_table

MOST_ROWS = MOST_LINES + 1_000
MOST_CHECKED = 60  # lines looked at to find the delimiter
LONGEST_CHECKED = 10_000  # characters of such a line
MOST_LOOSE = 50_000  # places of quotes that are not doubled
MOST_BETWEEN = 6  # lines from the headings to the first row of values: more headings, a place
_COMMA = re.compile(r",(?![0-9])|(?<![0-9]),")
_PAIR = re.compile(r"\s*([^:=\d]{1,30})\s*[:=]\s*(.*)")
_NOTE = re.compile(
    r"[-*•·–—]\s+\S|\(?(?:[0-9]{1,2}|[A-Za-z])[.)]\s+\S|\([0-9A-Za-z]\)|(?:\w+\s+)?notes?\s*[:.0-9]", re.IGNORECASE
)
_QUOTED = re.compile(r"^(?:\s*>)+ ?")
DELIMITERS = ("\t", ";", ",", "|")


def read_text(data: bytes, asker: Asker) -> Sheet:
    """The sheet of a text; Refused with every fault of its form, each with line and column."""
    text = settle_encoding(data, asker)
    if text.count("\n") > MOST_ROWS:
        raise Refused([Problem("", "too_many_lines", f"at most {MOST_LINES:,} lines are taken", "schedule", MOST_ROWS)])
    check_characters(text)
    text = unquoted(text)
    sample = [line[:LONGEST_CHECKED] for line in text.split("\n", MOST_CHECKED)[:MOST_CHECKED] if line.strip()]
    if (blocks := key_blocks(text)) is not None:
        return blocks
    headed, width = headed_delimiter(sample)
    delimiter = headed or find_delimiter(sample)
    if delimiter == "," and in_columns(sample):
        headed = delimiter = ""
    if delimiter and (headed or not is_list(sample, delimiter)):
        return delimited(text, delimiter, width, asker)
    gapped = [line for line in sample if len(plain_cells(line)) >= 3]
    if len(gapped) * 2 > len(sample) or any(map(is_heading_line, gapped)):
        return Sheet("", split_aligned(text.split("\n")))
    if share_of_openings(sample) < 1 / 2 and (spaced := split_spaced(text)) is not None:
        return Sheet("", spaced)
    return read_list(text)


def unquoted(text: str) -> str:
    """The text without the marks of quotation that a letter puts before each line; its lines keep their numbers."""
    lines = text.split("\n")
    filled = [line for line in lines if line.strip()]
    if sum(1 for line in filled if line.lstrip().startswith(">")) * 5 < len(filled) * 4:
        return text
    return "\n".join(_QUOTED.sub("", line) for line in lines)


def key_blocks(text: str) -> Sheet | None:
    """Openings that stand in blocks of "key: value" lines, as a table; None where the text is none of these."""
    lines = [(number, line) for number, line in enumerate(text.split("\n"), 1) if line.strip()]
    pairs = [
        (number, match[1], match[2])
        for number, line in lines
        if (match := _PAIR.fullmatch(line)) and carries(match[1].strip())
    ]
    keys = list(dict.fromkeys(key.strip().upper() for _, key, _ in pairs))
    first = sum(1 for _, key, _ in pairs if keys and key.strip().upper() == keys[0])
    if len(keys) < 3 or first < 2 or len(pairs) * 5 < len(lines) * 4:
        return None
    rows = [GridRow(0, keys)]
    paired = {number for number, *_ in pairs}
    for number, key, value in pairs:
        if key.strip().upper() == keys[0] or len(rows) == 1:
            rows.append(GridRow(number, [""] * len(keys)))
        place = keys.index(key.strip().upper())
        cells = rows[-1].cells
        cells[place] = f"{cells[place]} {value.strip()}".strip()
    rows += [GridRow(number, ["", line.strip()]) for number, line in lines if number not in paired]
    return Sheet("", sorted(rows, key=lambda row: row.number))


def in_columns(sample: list[str]) -> bool:
    """Whether commas stand between digits alone, as decimal signs, and gaps of spaces hold the columns apart."""
    if any(_COMMA.search(line) for line in sample if is_heading_line(line)):
        return False
    gapped = [line for line in sample if len(plain_cells(line)) >= 3]
    return len(gapped) * 3 >= len(sample) * 2 and not any(
        _COMMA.search(line) for line in gapped if "  " in line.strip()
    )


def is_list(sample: list[str], delimiter: str) -> bool:
    """Whether most lines name an opening each in words, and none is a row of headings."""
    heads = (line for line in sample if not is_opening(line))
    if any(sum(1 for cell in line.split(delimiter) if carries(cell.strip(' "'))) >= 2 for line in heads):
        return False
    return share_of_openings(sample) >= 3 / 5


def share_of_openings(sample: Sequence[str]) -> float:
    """The share of the lines that name an opening each in words: its mark, count and size."""
    return sum(map(is_opening, sample)) / max(len(sample), 1)


def is_opening(line: str) -> bool:
    """Whether a line names an opening in words: its mark, count and size. No headings do, whatever places it names."""
    return all(read_words_of_line(" ".join(line.split()))[:3])


def settle_encoding(data: bytes, asker: Asker) -> str:
    """The text with LF line ends; an older encoding is told, or asked about where the bytes fit several."""
    found = decode_any(data)
    if found is None:
        return data.decode("utf-8", "surrogateescape")
    if text_is_json(found):
        raise Refused([Problem("", "not_utf8", "this is JSON in another encoding; JSON is UTF-8", "schedule", 1, 1)])
    if found.encoding.startswith("utf"):
        return found.text
    if not found.could_be:
        asker.tell("encoding", f"The file is not UTF-8; it was read as {found.encoding}.", about=(found.encoding,))
        return found.text
    names = tuple(name for name, _ in found.could_be)
    said = "; ".join(f"{name}: {line}" for name, line in found.could_be)
    sentence = f"The file is not UTF-8 and can be read in several ways. Which is right? {said}"
    answer = asker.ask("encoding", BLOCKS_COSTING, sentence, about=names, choices=names)
    chosen = decode_any(data, answer) if answer else None
    return chosen.text if chosen else found.text


def text_is_json(found: Decoded) -> bool:
    """Whether a text that is not UTF-8 begins as JSON."""
    return found.encoding != "utf-8" and found.text.lstrip()[:1] in ("[", "{")


def headed_delimiter(sample: Sequence[str]) -> tuple[str, int]:
    """The sign that parts a row of headings and a row of values below it, and how many headings there are.

    Whatever stands above and below them counts for nothing; a blank sign where there are no such rows.
    """
    best = (0, "", 0)
    for delimiter in DELIMITERS:
        for at, line in enumerate(sample):
            cells = cells_of(line, delimiter) if delimiter in line and not is_opening(line) else []
            meant = sum(map(carries, cells))
            if meant < 2 or meant * 3 < len(cells) or any(map(is_value, cells)) or meant <= best[0]:
                continue
            if any(is_row(below, delimiter, len(cells)) for below in sample[at + 1 : at + 1 + MOST_BETWEEN]):
                best = (meant, delimiter, len(cells))
    return best[1:]


def cells_of(line: str, delimiter: str) -> list[str]:
    """The cells of a line that hold something, without quotes around them."""
    return [text for cell in line.split(delimiter) if (text := cell.strip(' "'))]


def is_row(line: str, delimiter: str, width: int) -> bool:
    """Whether a line holds values, about as many as there are headings."""
    cells = cells_of(line, delimiter)
    return width <= 2 * len(cells) and len(cells) <= 2 * width and len(cells) > 1 and any(map(is_value, cells))


def find_delimiter(sample: list[str]) -> str:
    """The sign that stands in most lines, and in the most of them equally often; blank where there is none."""
    best: tuple[int, int, str] | None = None
    for delimiter in DELIMITERS:
        counts = [line.count(delimiter) for line in sample if delimiter in line]
        if len(counts) * 2 <= len(sample) or not counts:
            continue
        usual = max(set(counts), key=lambda n: (counts.count(n), n))
        score = (counts.count(usual) * min(usual, 4), usual, delimiter)
        if best is None or score[:2] > best[:2]:
            best = score
    return best[2] if best else ""


def delimited(text: str, delimiter: str, width: int, asker: Asker) -> Sheet:
    """The rows of a CSV text, a numbered or dashed note as one cell; Refused with the faults of its form.

    width: how many headings there are, 0 where none are known.
    """
    text = with_ditto_quoted(text, delimiter)
    table = read_table(text, MOST_ROWS, delimiter)
    told: list[int] = []
    while (loose := [f.offset for f in table.faults if f.code in QUOTES]) and len(told) < MOST_LOOSE:
        lines = Lines(text)
        told += [lines.place(offset)[0] for offset in loose]
        text, before = with_inches_quoted(text, delimiter, loose), text
        if text == before:
            break
        table = read_table(text, MOST_ROWS, delimiter)
    if told and not table.faults:
        tell_loose(told, asker)
    if table.faults:
        faults = table.faults[:1000]
        places = table.places([fault.offset for fault in faults])
        raise Refused([Problem("", f.code, f.detail, "schedule", *at) for f, at in zip(faults, places, strict=True)])
    lines = Lines(text)
    rows = [GridRow(lines.place(row.offset)[0], as_note(row.cells, delimiter, width)) for row in table.rows]
    return Sheet("", [unbroken(row) for row in rows])


def tell_loose(numbers: Sequence[int], asker: Asker) -> None:
    """Quotes that were taken for inch marks."""
    rows = [f"row {number}" for number in dict.fromkeys(numbers)]
    said = ", ".join(rows[:12]) + (f" and {len(rows) - 12} more" if len(rows) > 12 else "")
    sentence = f"Quotes inside quoted cells are not doubled in {said}; they are read as inch marks."
    asker.tell("loose_quotes", sentence, about=tuple(rows[:50]), cells=rows)


def as_note(cells: list[str], delimiter: str, width: int) -> list[str]:
    """The cells of a row, joined where they are the words of a note: it begins as one and has fewer than a line."""
    if not _NOTE.match(cells[0]) or len(cells) < 2 or sum(map(bool, cells)) >= width or any(map(is_value, cells[1:])):
        return cells
    return [f"{delimiter} ".join(cells).strip(f" {delimiter}")]


def unbroken(row: GridRow) -> GridRow:
    """The row with each cell on one line, the lines of those that had several beside them."""
    for column, cell in enumerate(row.cells):
        if "\n" in cell:
            row.broken[column] = tuple(line.strip() for line in cell.split("\n") if line.strip())
            row.cells[column] = " ".join(row.broken[column])
    return row


def check_characters(text: str) -> None:
    """Refused where the text holds bytes that are not UTF-8, or control characters."""
    faults = read_table(text, 0, "\0").faults
    wrong = [fault for fault in faults if fault.code in ("not_utf8", "control_character")][:1000]
    if wrong:
        lines = Lines(text)
        raise Refused([Problem("", f.code, f.detail, "schedule", *lines.place(f.offset)) for f in wrong])
