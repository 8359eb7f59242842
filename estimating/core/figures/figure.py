"""A subject's figures: each one's formula stands once, and both computes its value and tells how it came about.

A formula is a method that gives (rule, words, inputs...). Asked of the subject itself, the inputs are plain values and
the rule's function makes the figure of them, once. Asked through a view (estimating.core.derivations.views), the same
inputs come as `Known` numbers and texts, which say where they are from.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any, ClassVar, Generic, Self, TypeVar, overload

from estimating.core.figures.printing import NUMBER, TEXT, Unit, Value
from rates.core.fraction import Fraction

PLAIN = frozenset(b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_")
Step = tuple[Any, ...]
Source = Mapping[str, object]
V = TypeVar("V")
UnitOf = Unit | Callable[[Any], Unit]


@dataclass(frozen=True)
class Input:
    """One value that a rule takes: of another figure, of a source, or a parameter of the rule (neither).

    term: inputs of the same term belong together (they are multiplied, or are one row of a table).
    """

    name: str
    value: Value
    unit: Unit
    figure: str | None = None
    source: Source | None = None
    term: int | None = None


class Known(Fraction):
    """A number that says where it is from."""

    input: Input

    def __new__(cls, told: Input) -> Known:
        made = object.__new__(cls)
        value = Fraction(told.value)
        made._numerator, made._denominator = value.numerator, value.denominator
        made.input = told
        return made


class KnownText(str):
    """A text that says where it is from."""

    input: Input

    def __new__(cls, told: Input) -> KnownText:
        made = str.__new__(cls, told.value)
        made.input = told
        return made


def known(told: Input) -> Any:
    """The value of an input, saying where it is from."""
    return KnownText(told) if isinstance(told.value, str) else Known(told)


def parameter(name: str, value: Value) -> Any:
    """A parameter that belongs to the rule itself: a place, a count of sides, a number of decimal places."""
    return known(Input(name, value, TEXT if isinstance(value, str) else NUMBER))


def constant(name: str, value: Fraction | int, unit: Unit = NUMBER) -> Any:
    """A constant of the trade or of measurement, named."""
    return known(Input(name, value, unit, source={"constant": name}))


MINUTES_IN_AN_HOUR = constant("minutes in an hour", 60)


def named(name: str, value: Any) -> Any:
    """The value under a name by which a rule tells it from others."""
    told = getattr(value, "input", None)
    return known(Input(name, value, NUMBER) if told is None else replace(told, name=name))


def called(name: str, value: Any, unit: Unit | None = None) -> Any:
    """The value under another name (and in another unit), where it says where it is from; any other as it is."""
    told = getattr(value, "input", None)
    return value if told is None else known(replace(told, name=name, unit=unit or told.unit))


class figure:  # noqa: N801 (used as a decorator, as property is)
    """One figure of a subject.

    title: a format of the subject `s`; step: its name after the subject's (the method's own, if absent); label: what
    it is called as an input (the step, if absent); when: whether the subject has it; value: where the rule works on a
    whole column, how this figure is taken from it.
    """

    def __init__(
        self,
        title: str | Callable[[Any], str],
        unit: UnitOf,
        *,
        step: str | Callable[[Any], str] | None = None,
        label: str | Callable[[Any], str] | None = None,
        when: Callable[[Any], object] = lambda subject: True,
        value: Callable[[Any], Any] | None = None,
    ) -> None:
        self.title: Any = title
        self.label: Any = label
        self.unit, self.step, self.when, self.value = unit, step, when, value
        self.formula: Callable[..., Step] = lambda subject: ()
        self.name = ""

    def __call__(self, formula: Callable[..., Step]) -> Self:
        self.formula = formula
        return self

    def __set_name__(self, owner: type, name: str) -> None:
        self.name = name
        self.step = name if self.step is None else self.step
        if self.label is None and isinstance(self, figures):
            self.label = lambda subject, key: str(key).replace("_", " ")
        elif self.label is None:
            self.label = (self.step if isinstance(self.step, str) else name).rsplit(".", 1)[-1].replace("_", " ")

    @overload
    def __get__(self, subject: None, owner: type) -> figure: ...
    @overload
    def __get__(self, subject: object, owner: type) -> Fraction: ...
    def __get__(self, subject: object | None, owner: type) -> figure | Fraction:
        if subject is None:
            return self
        if self.value is not None:
            found: Fraction = self.value(subject)
        else:
            step = self.formula(subject)
            found = step[0].function(*step[2:])
        subject.__dict__[self.name] = found
        return found


class figures(figure):  # noqa: N801
    """Figures of a subject that are alike, by key: asked of the subject, a mapping from key to value.

    keys: the keys of a subject; step: a format of the key's `word`, or made of subject and key, as title, unit and
    label may be; keep: whether one is there, by key and value (all, if absent).
    """

    def __init__(
        self,
        title: str | Callable[[Any, Any], str],
        unit: Unit | Callable[[Any, Any], Unit],
        keys: Callable[[Any], Iterable[Any]],
        step: str | Callable[[Any, Any], str],
        label: str | Callable[[Any, Any], str] | None = None,
        keep: Callable[[Any, Any], object] | None = None,
    ) -> None:
        super().__init__(title, unit, step=step, label=label)  # type: ignore[arg-type]
        self.keys, self.keep = keys, keep

    def __get__(self, subject: object | None, owner: type) -> Any:
        if subject is None:
            return self
        formula, keep = self.formula, self.keep
        steps = [(key, formula(subject, key)) for key in self.keys(subject)]
        values = {key: step[0].function(*step[2:]) for key, step in steps}
        if keep is not None:
            values = {key: value for key, value in values.items() if keep(key, value)}
        subject.__dict__[self.name] = values
        return values


class once(Generic[V]):  # noqa: N801 (as functools.cached_property, without its lock)
    """A property that is computed when it is first asked for."""

    def __init__(self, function: Callable[[Any], V]) -> None:
        self.function = function

    def __set_name__(self, owner: type, name: str) -> None:
        self.name = name

    def __get__(self, subject: Any, owner: type) -> V:
        value: V = self.function(subject)
        subject.__dict__[self.name] = value
        return value


class told:  # noqa: N801 (used as a decorator, as property is)
    """Inputs of several formulas of a subject: as `once`, and read through the view where the subject is."""

    def __init__(self, function: Callable[[Any], Any]) -> None:
        self.function = function

    def __set_name__(self, owner: type, name: str) -> None:
        self.name = name

    def __get__(self, subject: object | None, owner: type) -> Any:
        if subject is None:
            return self
        value = subject.__dict__[self.name] = self.function(subject)
        return value


class Subject:
    """What has figures.

    path: the first words of their names; prefix: those that say which part of the job it is in; elsewhere: attributes
    that are figures of another subject of the part, by the names of those. A method told_x gives x as a view sees it.
    """

    figures: ClassVar[Mapping[str, figure]] = {}
    elsewhere: ClassVar[Mapping[str, str]] = {}

    def __init_subclass__(cls) -> None:
        of_classes = [vars(c).items() for c in reversed(cls.__mro__)]
        cls.figures = {name: x for attributes in of_classes for name, x in attributes if isinstance(x, figure)}

    def __repr__(self) -> str:
        return f"<{type(self).__name__} {self.path}>"

    @property
    def prefix(self) -> str:
        """Nothing, in the job itself."""
        return ""

    @property
    def path(self) -> str:
        """Nothing, of the job itself."""
        return ""


def word(code: object) -> str:
    """A code or place as one step of a figure's name, safe in a URL; no code is `~`.

    It stands as it is where it holds only letters, digits, `-` and `_`; every other byte of its UTF-8 becomes `~` and
    two hexadecimal digits (`07 27 00` is `07~2027~2000`).
    """
    if code is None:
        return "~"
    return "".join(chr(byte) if byte in PLAIN else f"~{byte:02x}" for byte in str(code).encode())
