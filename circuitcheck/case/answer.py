"""What a rule says about one subject in one case: an outcome, numbers, and sentences with named amounts."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import NamedTuple, TypeAlias

from circuitcheck.case.parts import Part
from circuitcheck.findings import Outcome, Source
from circuitcheck.findings import Part as Share
from circuitcheck.quantities import rounded_down, rounded_up
from circuitcheck.refs import Ref
from circuitcheck.text import shown_number


class Rounding(StrEnum):
    """Which way a shown number is rounded."""

    NEAREST = "nearest"
    UP = "up"
    DOWN = "down"

    __hash__ = str.__hash__


_ROUNDED: Mapping[Rounding, Callable[[float, int], str]] = {
    Rounding.NEAREST: shown_number,
    Rounding.UP: rounded_up,
    Rounding.DOWN: rounded_down,
}


class Amount(NamedTuple):
    """A number in the unit in which people read it, for a sentence.

    rounding: UP for what is needed at least, DOWN for what is left or allowed at most, so that a number shown as enough
    is enough. ``significant``: how many significant digits are shown.
    """

    number: float
    unit: str = ""
    rounding: Rounding = Rounding.NEAREST
    significant: int = 3

    @property
    def digits(self) -> str:
        """The number as text."""
        return _ROUNDED[self.rounding](self.number, self.significant)

    def __str__(self) -> str:
        """The number beside its unit."""
        return f"{self.digits} {self.unit}".rstrip()


#: What stands for the names in a sentence.
Things: TypeAlias = "dict[str, Amount | str]"


class Later(Mapping[str, "Amount | str"]):
    """Things that are made when somebody reads the sentence: most answers are only compared with others.

    ``make`` reads nothing of the case any more, which may be another one by then.
    """

    __slots__ = ("_make", "_things")

    def __init__(self, make: Callable[[], Mapping[str, Amount | str]]) -> None:
        """``make`` is called once at the most."""
        self._make = make
        self._things: Mapping[str, Amount | str] | None = None

    def _made(self) -> Mapping[str, Amount | str]:
        if self._things is None:
            self._things = self._make()
        return self._things

    def __getitem__(self, name: str) -> Amount | str:
        """What stands for a name. Raises: KeyError."""
        return self._made()[name]

    def __iter__(self) -> Iterator[str]:
        """The names."""
        return iter(self._made())

    def __len__(self) -> int:
        """How many there are."""
        return len(self._made())


class Said(NamedTuple):
    """A sentence about one case: a template with ``{names}``, and what stands for each.

    Whatever the user wrote (an id, a title) is a thing to fill in, never part of the template: it may hold braces.
    Where two cases say the same template, their amounts become one span ("4.1 to 5.6 A").
    """

    template: str
    things: Mapping[str, Amount | str]

    def __str__(self) -> str:
        """The sentence for this one case."""
        return self.template.format_map(self.things)


def said(template: str, **things: Amount | str) -> Said:
    """A sentence; numbers with units are ``Amount``, names are text."""
    return Said(template, things)


class Rows(NamedTuple):
    """Lines that add up to a value, made when somebody looks at them: most answers are only compared with others.

    ``make`` reads nothing of the case any more, which may be another one by then.
    """

    make: Callable[[], Iterable[Share]]

    def made(self) -> tuple[Share, ...]:
        """The lines."""
        return tuple(self.make())


def _no_lines() -> Iterable[Said]:
    return ()


_NOTHING_TO_DO: Mapping[Outcome, tuple[str, ...]] = MappingProxyType({})


class Answer(NamedTuple):
    """What a rule says about one subject in one case.

    part: what it speaks about. outcome: PASS, CAUTION or FAIL; UNDETERMINED only where the tables hold nothing for what
    is known (``ask`` then says whom to ask what).
    says: one plain sentence. open_says: what to say where cases differ ("Cannot tell yet whether …"); left out: both
    sentences one after the other.
    value, limit: in ``unit``, as shown to people. at_least: the limit is the least that the value may be, not the most.
    working: makes the lines of the working, only when somebody reads them.
    keys: the entries that decide; the screens jump to the first. rows: the lines that add up to ``value``.
    to_come: what to say where only work that is still to be done decides ("Keep cable … away from …").
    to_do: what to do about it, by the outcome of the finding. stop: ends the job before any arithmetic.
    cause: findings of one cause share this word, so that pages tell it once.
    """

    part: Part
    outcome: Outcome
    says: Said
    open_says: Said | None = None
    to_come: Said | None = None
    value: float | None = None
    limit: float | None = None
    unit: str | None = None
    at_least: bool = False
    working: Callable[[], Iterable[Said]] = _no_lines
    sources: tuple[Source, ...] = ()
    keys: tuple[Ref, ...] = ()
    rows: tuple[Share, ...] | Rows = ()
    to_do: Mapping[Outcome, tuple[str, ...]] = _NOTHING_TO_DO
    ask: tuple[str, ...] = ()
    stop: bool = False
    cause: str = ""
