"""Conductor sizes and cable designations. A wire size is a name, not a quantity: ``14 AWG`` is no unit of anything."""

from __future__ import annotations

import re
from dataclasses import dataclass

from circuitcheck.quantities.grammar import QuantityError, spelled_plainly

_ALLOWED = 'a conductor size such as "14 AWG", "1/0 AWG", "250 kcmil" or "2.5 mm^2"'
_AUGHT = r"([1-4])/0|(0{1,4})"
_GAUGE = r"(?:#|no\.? ?)?([0-9]{1,2}|[1-4]/0|0{1,4}) ?(?:awg|gauge|ga\.?)"
_NUMBERED = r"(?:#|no\.? ?)([0-9]{1,2}|[1-4]/0|0{1,4})"
_LEADING_AWG = r"awg ?#?([0-9]{1,2}|[1-4]/0|0{1,4})"
_THOUSAND_MILS = r"([0-9]{3,4}) ?(?:kcmil|mcm)"
_METRIC = r"([0-9]{1,3}(?:[.,][0-9]{1,2})?) ?(?:mm\^?2|sq\.? ?mm|square mm)"
_DESIGNATION = (
    r"(?:#)?([0-9]{1,2}|[1-4]/0)(?: ?awg)? ?[/-] ?([0-9]{1,2})(?: ?(awg|gauge))?"
    r"( ?(?:w/ ?g(?:round)?|with ground|wg|g|and ground))?"
)


@dataclass(frozen=True, slots=True)
class Designation:
    """What ``14/2`` on a cable says. ``ground`` is True when it says so too, None when it does not say."""

    size: str
    conductors: int
    ground: bool | None


def _match(pattern: str, text: str) -> re.Match[str] | None:
    """A whole match. Most sizes are written as the tables name them, so the patterns are made ready on first use."""
    return re.fullmatch(pattern, text, re.IGNORECASE)


def _gauge_name(text: str) -> str:
    match = _match(_AUGHT, text)
    if match:
        return f"{match[1] or len(match[2])}/0 AWG"
    return f"{int(text)} AWG"


def read_size(text: str) -> str:
    """The canonical name of a conductor size: ``14 AWG``, ``2/0 AWG``, ``250 kcmil``, ``2.5 mm^2``.

    Whether the tables know that size is for the reader of the file to say.

    Raises: QuantityError.
    """
    plain = spelled_plainly(text)
    for pattern in (_GAUGE, _NUMBERED, _LEADING_AWG):
        match = _match(pattern, plain)
        if match:
            return _gauge_name(match[1])
    match = _match(_THOUSAND_MILS, plain)
    if match:
        return f"{int(match[1])} kcmil"
    match = _match(_METRIC, plain)
    if match:
        return f"{float(match[1].replace(',', '.')):g} mm^2"
    if re.fullmatch(r"[0-9]{1,2}|[1-4]/0", plain):
        raise QuantityError(f"the size {plain} stands without AWG or mm^2", _ALLOWED, f"{plain} AWG")
    raise QuantityError("this is not a conductor size", _ALLOWED)


def read_designation(text: str) -> Designation | None:
    """What a cable designation says (``14/2``, ``14-2``, ``12/3 G``), or None where the text is none.

    ``1/0`` to ``4/0`` are sizes and no designations.
    """
    if "/" not in text and "-" not in text:
        return None
    match = _match(_DESIGNATION, spelled_plainly(text))
    if not match or match[2] == "0":
        return None
    return Designation(_gauge_name(match[1]), int(match[2]), True if match[4] else None)
