"""Examples as lines for a shell that run as they stand: what a request needs is made or looked up before it.

What a request names (an id, a tag, a digest, an invitation) comes from the answer that told it first; what was done to
the things that it names comes before it as well, so that they are in the state that it needs.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from typing import Any

from tests.cast import IN_A_MONTH
from tests.http.recording import ID, Sent

SUBJECT = re.compile(r"/v1/([a-z-]+)/([0-9a-f-]{36})")
DIGEST = re.compile(r"[0-9a-f]{64}|[a-z0-9]+[:-][0-9a-f]{32,}")
TOLD = ("digest", "invitation", "csrf_token", "id", "code")
WORDS = {"opening-schedules": "SCHEDULE", "rate-books": "BOOK", "access-keys": "ACCESS_KEY"}
FRESH = {  # what may stand once, or only for a time
    IN_A_MONTH: ("ENDS", "$(date -u -d '+30 days' +%Y-%m-%dT%H:%M:%SZ)"),
    "ann@office.example": ("EMAIL", "ann-$(date +%s%N)@office.example"),
    "Rates of a branch": ("NAME", "Rates of a branch, $(date +%s%N)"),
}
NAMED = ("digest", "invitation", "question", "labour")  # fields of requests whose values answers told
# a list in a request that a list of an answer gives: the operation that answers it, the field of each item
LISTS = {"sign": ("sign-offs", "assumption")}
COOKIES = " -b browser.txt -c browser.txt"


class Lines:
    """The lines of one example."""

    def __init__(self, sent: Sequence[Sent], target: int) -> None:
        self.sent, self.target = sent, target
        self.needed = sorted(self.closure(target))
        self.names: dict[str, str] = {}

    def closure(self, target: int) -> set[int]:
        """The places of all requests that one needs, its own with them."""
        found, open_ones = set[int](), [target]
        while open_ones:
            place = open_ones.pop()
            if place not in found:
                found.add(place)
                open_ones += [before for before in self.before(place) if before not in found]
        return found

    def before(self, place: int) -> Iterator[int]:
        """Requests that one needs itself."""
        for token in tokens(self.sent[place]):
            provider = self.provider(token, place)
            if provider is not None:
                yield provider
        yield from (before for before, _ in self.lists(place))
        subjects = set(ids_of(self.sent[place]))
        for earlier in range(place):
            one, match = self.sent[earlier], SUBJECT.match(self.sent[earlier].path)
            acted = one.method == "POST" and one.status == 200 and match is not None and match[2] in subjects
            session = one.who == self.sent[place].who == "" and one.path.startswith("/v1/session")
            if acted or (session and one.method != "GET"):
                yield earlier

    def lists(self, place: int) -> Iterator[tuple[int, str]]:
        """(the request that answers a list which a request gives, the name of the list)."""
        body = self.sent[place].body
        for name, (end, _) in LISTS.items():
            if isinstance(body, dict) and name in body:
                yield max(i for i in range(place) if self.sent[i].path.endswith(f"/{end}")), name

    def provider(self, token: str, place: int) -> int | None:
        """The request whose answer told something: a tag or a digest the last one, all else the first."""
        if token.startswith('"'):
            return next((i for i in range(place - 1, -1, -1) if self.sent[i].tag == token), None)
        places = range(place - 1, -1, -1) if DIGEST.fullmatch(token) else range(place)
        return next((i for i in places if where(self.sent[i].answer, token) is not None), None)

    def write(self) -> str:
        """The lines, the request itself last."""
        return "\n".join(line for place in self.needed for line in self.write_one(place))

    def write_one(self, place: int) -> Iterator[str]:
        """The lines of one request."""
        one, last = self.sent[place], place == self.target
        wanted = [] if last else self.wanted(place)
        head = any(token.startswith('"') for token in wanted)
        values = [token for token in wanted if not token.startswith('"')]
        for text, (name, fresh) in FRESH.items():
            if isinstance(one.body, dict) and text in one.body.values() and text not in self.names:
                self.names[text] = name
                yield f'{name}="{fresh}"'
        given = [] if last else [name for other in self.needed for at, name in self.lists(other) if at == place]
        out = "" if last else " -o answer.json" if values or given else " -o /dev/null"
        yield from self.command(one, out + (" -D head.txt" if head else ""))
        for token in values:
            yield f"{self.name(token, place)}=$(pick {' '.join(where(one.answer, token) or ())} < answer.json)"
        for name in given:
            take = f'print(json.dumps([x["{LISTS[name][1]}"] for x in json.load(sys.stdin)["items"]]))'
            yield f"{name.upper()}=$(python3 -c 'import json, sys; {take}' < answer.json)"
        if head:
            yield "TAG=$(tag < head.txt)"

    def wanted(self, place: int) -> list[str]:
        """What later requests need of an answer."""
        later = (other for other in self.needed if other > place)
        found = [t for other in later for t in tokens(self.sent[other]) if self.provider(t, other) == place]
        return list(dict.fromkeys(found))

    def name(self, token: str, place: int) -> str:
        """The variable of a value: by the collection of the thing, or by what the answer calls it."""
        one = self.sent[place]
        called = (where(one.answer, token) or ["value"])[-1]
        if called in ("id", "code"):
            named = re.search(r"/v1/([a-z-]+)/" + re.escape(token), " ".join(other.path for other in self.sent))
            called = named[1] if named else one.path.partition("?")[0].rpartition("/")[2]
        base = WORDS.get(called, called.removesuffix("s"))
        taken, word = set(self.names.values()), base.upper().replace("-", "_")
        name = next(n for n in (word, *(f"{word}_{i}" for i in range(2, 99))) if n not in taken)
        self.names[token] = name
        return name

    def put(self, text: str) -> str:
        """A text with variables for what is told by answers."""
        for token, name in self.names.items():
            text = text.replace(token, f"${{{name}}}" if token in FRESH else f"${name}")
        return text

    def command(self, one: Sent, options: str) -> list[str]:
        """The curl command of one request."""
        line = f"curl -sS --fail-with-body{options}"
        line += COOKIES if not one.who else f' -H "Authorization: Bearer ${one.who}"'
        line += "" if one.method == ("GET" if one.body is None else "POST") else f" -X {one.method}"
        fields = {name: self.put(value) for name, value in one.fields.items() if name != "If-Match"}
        if "Idempotency-Key" in fields:
            fields["Idempotency-Key"] = "example-$(date +%s%N)"
        if "If-Match" in one.fields:
            fields["If-Match"] = "$TAG"
        if one.body is not None:
            fields.setdefault("Content-Type", "application/json")
        lines = [f'-H "{name}: {value}"' for name, value in fields.items()]
        address = f'"$BASE{self.put(one.path)}"'
        if one.body is None:
            return [" \\\n  ".join([f"{line} {address}", *lines])]
        body = one.body
        if isinstance(body, dict):
            body = {name: f"${name.upper()}" if name in LISTS else part for name, part in body.items()}
        told = body if isinstance(body, str) else self.put(printed(body))
        for name in LISTS:
            told = told.replace(f'"\\${name.upper()}"', f"${name.upper()}")
        quoted = "'END'" if isinstance(one.body, str) else "END"
        return [" \\\n  ".join([f"{line} {address}", *lines, f"--data-binary @- <<{quoted}\n{told.rstrip()}\nEND"])]


def ids_of(one: Sent) -> list[str]:
    """The ids that a request names."""
    return [match[0] for match in ID.finditer(one.path + json.dumps(one.body)) if match[1]]


def tokens(one: Sent) -> list[str]:
    """What a request names that an answer told."""
    found = ids_of(one)
    found += [one.fields[name] for name in ("If-Match", "X-CSRFToken") if name in one.fields]
    if isinstance(one.body, dict):
        found += [text for name, text in leaves(one.body) if name[-1] in NAMED]
        answers = one.body.get("answers")
        found += list(answers) if isinstance(answers, dict) else []
    return list(dict.fromkeys(found))


def leaves(value: Any, at: tuple[str, ...] = ("",)) -> Iterator[tuple[tuple[str, ...], str]]:
    """Every text in a JSON value with its path."""
    if isinstance(value, dict):
        for name, part in value.items():
            yield from leaves(part, (*at, name))
    elif isinstance(value, list):
        for i, part in enumerate(value):
            yield from leaves(part, (*at, str(i)))
    elif isinstance(value, str):
        yield at, value


def where(answer: Any, token: str) -> list[str] | None:
    """The path to a value in an answer."""
    found = (list(path[1:]) for path, text in leaves(answer) if text == token)
    return next((path for path in found if ID.fullmatch(token) or path[-1] in TOLD), None)


def printed(body: Any) -> str:
    """JSON as a person would write it down."""
    line = json.dumps(body, ensure_ascii=False)
    if len(line) > 90 and isinstance(body, dict):
        rows = ",\n ".join(f"{json.dumps(name)}: {rows_of(part)}" for name, part in body.items())
        line = f"{{{rows}}}"
    elif len(line) > 90:
        line = rows_of(body)
    return line.replace("$", "\\$").replace("`", "\\`")


def rows_of(part: Any) -> str:
    """A list of objects one a line, all else in one."""
    if isinstance(part, list) and part and isinstance(part[0], dict):
        return "[" + ",\n  ".join(json.dumps(row, ensure_ascii=False) for row in part) + "]"
    return json.dumps(part, ensure_ascii=False)


def shell_lines(sent: Sequence[Sent]) -> dict[str, str]:
    """The lines of each operation's first request."""
    first: dict[str, int] = {}
    for place, one in enumerate(sent):
        first.setdefault(one.operation, place)
    return {name: Lines(sent, place).write() for name, place in first.items()}
