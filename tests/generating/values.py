"""One entry as a user may write it: a value, a range, a guess, a word, yes or no, a number, a list."""

from __future__ import annotations

import datetime
from typing import Any

from circuitcheck.circuit.keys.key import Form, Key
from circuitcheck.quantities import Kind, QuantityError, in_unit, read_interval, to_si
from circuitcheck.tables.rulebook import vocabulary
from tests.generating import usual
from tests.generating.dice import Dice, Shares

_TITLES = ("Stair lights", "Hall, second floor", 'A "warm" light', "Lamp \\ shade", "Küche", "wall 1\twall 2")
_EIGHTHS = ("", "-1/2", "-1/4", "-3/4", "-1/8", "-3/8", "-5/8", "-7/8")


def words_of(section: str, key: Key) -> tuple[str, ...]:
    """The words that a key allows, its own or those of the tables."""
    if key.form is Form.SIZE:
        return vocabulary()["size"]
    return vocabulary().get(f"{section}.{key.name}") or key.words


def number_text(number: float, digits: int = 4) -> str:
    """A plain number as people write it: no power of ten, no digits that nobody reads."""
    text = f"{float(f'{number:.{digits}g}'):.9f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


class Writer:
    """Draws the entries of one circuit."""

    def __init__(self, dice: Dice, shares: Shares) -> None:
        self.dice = dice
        self.shares = shares

    def value(self, section: str, key: Key, name: str = "") -> Any:
        """A value of this key, as TOML would hold it. ``name``: the key of what is usual, else ``section.key``."""
        name = name or f"{section}.{key.name}"
        form = key.form
        if form is Form.PHYSICAL:
            return self._physical(key.kind, name)
        if form is Form.PHYSICAL_LIST:
            return [self._physical(key.kind, name) for _ in range(self.dice.of((0, 1, 1, 2)))]
        if form in (Form.WORD, Form.SIZE):
            return self.word(words_of(section, key), name)
        if form is Form.WORD_LIST:
            return self._word_list(words_of(section, key))
        if form is Form.YES_NO:
            return self.dice.often(0.5)
        if form is Form.WHOLE:
            return self.count(key, name)
        if form is Form.TABLES:
            return [self._table(section, key) for _ in range(self.dice.of((0, 1, 1, 1, 2, 3)))]
        if form is Form.DATE:
            day = datetime.date(2024, 1, 1) + datetime.timedelta(days=self.dice.whole(0, 900))
            return day if self.dice.often(0.7) else day.isoformat()
        if form is Form.TEXT:
            return self.dice.of(_TITLES if key.required else (*_TITLES, ""))
        raise AssertionError(f"{name} is set by the wiring")

    def word(self, words: tuple[str, ...], name: str) -> str:
        """One of the words, the usual ones more often."""
        usual_words = usual.WORDS.get(name)
        if usual_words is None or self.dice.often(self.shares.odd):
            return self.dice.of(words)
        return self.dice.weighted(usual_words)

    def count(self, key: Key, name: str) -> int:
        """A whole number of this key."""
        if self.dice.often(self.shares.odd):
            return self.dice.whole(key.least, min(key.greatest, key.least + 2000))
        if name in usual.PRINTED:
            return int(self.dice.weighted(usual.PRINTED[name]))
        low, high = usual.SPANS.get(name, (key.least, key.greatest))
        return self.dice.whole(int(low), int(high))

    def _word_list(self, words: tuple[str, ...]) -> list[str]:
        return [] if self.dice.often(0.5) else self.dice.some(words) or [self.dice.of(words)]

    def _table(self, section: str, key: Key) -> dict[str, Any]:
        table: dict[str, Any] = {}
        for name, part in key.parts.items():
            if part.required or not self.dice.often(max(self.shares.left_out, 0.0)):
                table[name] = self.value(section, part, f"{section}.{key.name}.{name}")
        return table

    # ------------------------------------------------------------------------------------------- physical values

    def _physical(self, kind: Kind, name: str) -> Any:
        shares = self.shares
        low = self._number(kind, name)
        if self.dice.often(shares.ranges):
            high = self._number(kind, name)
            if self.dice.often(0.5):
                high = min(low * self.dice.random.uniform(1.02, 1.6), kind.greatest) if low > 0 else kind.greatest
            low, high = min(low, high), max(low, high)
            return self._checked(kind, self._range(kind, low, high), self._word(how_often=0.2))
        if kind.bare and self.dice.often(0.5) and not self.dice.often(shares.guesses):
            return float(number_text(low, 3))
        return self._checked(kind, self._one(kind, low), self._word(how_often=0.3))

    def _number(self, kind: Kind, name: str) -> float:
        if not self.dice.often(self.shares.odd):
            if name in usual.PRINTED:
                return self.dice.weighted(usual.PRINTED[name])
            low, high = usual.SPANS.get(name, (kind.least, kind.greatest))
            return float(number_text(self.dice.between(low, high), 3))
        digits = self.dice.of((1, 2, 3, 4))
        number = float(number_text(self.dice.between(kind.least, kind.greatest), digits))
        return min(kind.greatest, max(kind.least, number))

    def _word(self, how_often: float) -> str:
        if self.dice.often(self.shares.guesses):
            return self.dice.of(("about ", "about ", "approximately ", "~"))
        return self.dice.of(("measured ", "label ")) if self.dice.often(how_often) else ""

    def _checked(self, kind: Kind, text: str, word: str) -> str:
        """The text, or the same in the key's own unit where rounding has led out of what is accepted."""
        try:
            read_interval(word + text, kind)
        except QuantityError:
            return f"{word}{number_text(kind.greatest, 9)} {kind.unit}".rstrip()
        return word + text

    def _one(self, kind: Kind, number: float) -> str:
        unit = kind.unit if self.dice.often(0.8) else self.dice.of(kind.units)
        if unit == kind.unit == "in" and self.dice.often(0.4):
            return (
                f"{int(number)}{self.dice.of(_EIGHTHS)} in" if number >= 1 else f"{self.dice.of(_EIGHTHS[1:])[1:]} in"
            )
        if unit == kind.unit == "ft" and self.dice.often(0.15):
            return self.dice.of((f"{int(number)} ft {self.dice.whole(0, 11)} in", f"{int(number)}'6\""))
        return f"{self._amount(kind, number, unit)} {unit}".rstrip().replace("percent", "%")

    def _range(self, kind: Kind, low: float, high: float) -> str:
        unit = kind.unit if self.dice.often(0.8) else self.dice.of(kind.units)
        first, second = self._amount(kind, low, unit), self._amount(kind, high, unit)
        ways = [f"{first} {unit} to {second} {unit}", f"{first} to {second} {unit}"]
        if low >= 0:
            ways.append(f"{first}-{second} {unit}")
        return self.dice.of(ways).rstrip().replace(" percent", " %").replace("  ", " ")

    def _amount(self, kind: Kind, number: float, unit: str) -> str:
        return number_text(number if unit == kind.unit else in_unit(to_si(number, kind.unit), unit), 5)


def spans_si(kind: Kind, span: tuple[float, float]) -> tuple[float, float]:
    """A span in the unit of its kind as SI."""
    return to_si(span[0], kind.unit), to_si(span[1], kind.unit)
