"""Fills in the entries of a part: what the wiring says about it, and what is drawn besides."""

from __future__ import annotations

from typing import Any

from circuitcheck.circuit.entries import KNOWN_BY_KEY
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key
from tests.generating.dice import Dice, Shares
from tests.generating.possible import ABSENT_FORMS, GROUPS, READINGS
from tests.generating.values import Writer

#: What the wiring gives and nobody can leave out.
_FIXED = frozenset({"id", "from", "to", "box"})
_REFERENCES = (Form.ID, Form.REFERENCE)


class Filling:
    """Fills in the parts of one circuit."""

    def __init__(self, dice: Dice, shares: Shares) -> None:
        self.dice = dice
        self.shares = shares
        self.writer = Writer(dice, shares)
        #: Ids by section, for references that name any part at all.
        self.ids: dict[str, list[str]] = {}

    def part(self, section: str, wired: dict[str, Any], *, without: tuple[str, ...] = ()) -> dict[str, Any]:
        """The part with its entries. ``without``: keys that make no sense here.

        ``wired``: what the wiring says; names with an underscore are words between the two (``_kept``: keys that
        cannot be left out, ``_low_voltage``: a cable behind a driver).
        """
        keys = SECTIONS[section].keys
        skipped = set(without)
        for group in GROUPS.get(section, ()):
            left = [key for key in group if key not in skipped]
            kept = self.dice.of(left) if left else ""
            skipped.update(key for key in left if key != kept)
        filled: dict[str, Any] = {}
        for name, key in keys.items():
            if name in skipped:
                continue
            if name in wired:
                kept = name in _FIXED or key.required or name in wired.get("_kept", ())
                if kept or not self.dice.often(self.shares.left_out):
                    filled[name] = wired[name]
            elif key.form in _REFERENCES:
                self._reference(filled, key, section, wired)
            elif key.required or self._is_written(section, key):
                filled[name] = self.writer.value(section, key, self._usual_name(section, name, wired))
        if section == "load" and filled.get("continuous") is False and filled.get("own_switch") is False:
            filled["own_switch"] = True  # that nothing turns it off would contradict it
        self._say_how_known(section, filled)
        return filled

    def _is_written(self, section: str, key: Key) -> bool:
        reading = f"{section}.{key.name}" in READINGS or key.form in ABSENT_FORMS
        return self.dice.often(self.shares.readings if reading else 1 - self.shares.left_out)

    @staticmethod
    def _usual_name(section: str, name: str, wired: dict[str, Any]) -> str:
        low = section == "cable" and wired.get("_low_voltage") and name in ("type", "size", "material")
        return f"low_voltage.{name}" if low else f"{section}.{name}"

    def _reference(self, filled: dict[str, Any], key: Key, section: str, wired: dict[str, Any]) -> None:
        """Now and then a part names any other that it may name, whether that makes sense or not."""
        if not self.dice.often(0.3 * self.shares.odd):
            return
        ids = [part for other in key.refers for part in self.ids.get(other, ()) if part != wired.get("id")]
        if ids:
            filled[key.name] = self.dice.of(ids)

    def _say_how_known(self, section: str, filled: dict[str, Any]) -> None:
        words: dict[str, str] = {}
        for name in filled:
            key = SECTIONS[section].keys[name]
            if key.form in (Form.PHYSICAL, Form.ID):
                continue
            if self.dice.often(self.shares.guesses * 0.7):
                words[name] = "guess"
            elif self.dice.often(0.08):
                words[name] = self.dice.of(("measured", "label"))
        if words or self.dice.often(0.01):
            filled[KNOWN_BY_KEY] = words
