"""What is in one box, in words: of a command line or of a form. Messages name the flag of the command line."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeVar

from circuitcheck.errors import CommandError, nearest
from circuitcheck.text import shown_text

if TYPE_CHECKING:
    from circuitcheck.advice.one_box import Contents
    from circuitcheck.circuit.keys import Key
    from circuitcheck.circuit.model import Device, FixtureWires
    from circuitcheck.quantities import Interval

Read = TypeVar("Read")

#: What is said of a box or a light that has none of it.
NONE = "none"
_COUNTED = re.compile(r"\s*(?:(\d{1,2})\s*[x×]\s*)?(.+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxWords:
    """What somebody wrote of a box, by flag; None and nothing are unknown."""

    size: str | None = None
    volume: str | None = None
    cable: Sequence[str] = ()
    ground: bool | None = None
    device: Sequence[str] = ()
    clamps: bool | None = None
    leads: Sequence[str] | None = None
    lead_ground: str | None = None
    canopy: bool | None = None
    fitting: Sequence[str] = ()
    extension: Sequence[str] = ()


def contents_of(arguments: BoxWords) -> Contents:
    """What the words say. Raises: CommandError for a word or a value that is not known, with what was meant."""
    from circuitcheck.advice.one_box import Contents
    from circuitcheck.circuit.keys import SECTIONS
    from circuitcheck.tables.rulebook import vocabulary

    keys, words = SECTIONS["box"].keys, vocabulary()
    return Contents(
        trade_size=_trade_size(arguments.size, words["box.trade_size"]) if arguments.size else None,
        volume_m3=_volume("--volume", arguments.volume, keys["volume"]) if arguments.volume else None,
        cables=tuple(cable for text in arguments.cable for cable in _cables(text, words, arguments.ground)),
        devices=tuple(device for text in arguments.device for device in _devices(text, keys["devices"])),
        clamps=arguments.clamps,
        leads=_leads(arguments.leads, words["size"]),
        lead_ground=_lead_ground(arguments.lead_ground, words["size"]),
        canopy=arguments.canopy,
        fittings=tuple(_word("--fitting", text, keys["fittings"].words) for text in arguments.fitting) or None,
        extensions_m3=tuple(_volume("--extension", text, keys["extensions"]) for text in arguments.extension),
    )


def _trade_size(text: str, sizes: Sequence[str]) -> str:
    from circuitcheck.circuit.meant import sizes_meant

    meant = sizes_meant(text, sizes)
    if text not in sizes and len(meant) > 1:
        depths = ", ".join(f'"{size}"' for size in meant)
        raise CommandError(f'--size: "{shown_text(text)}" comes in several depths: {depths}')
    return _word("--size", text, sizes)


def _cables(text: str, words: Any, ground: bool | None) -> list[dict[str, object]]:
    from circuitcheck.circuit.short.cable_print import read_cable_print

    times, rest = _times(text)
    entries = _read("--cable", text, lambda: dict(read_cable_print(rest, words["cable.type"])))
    _size_listed("--cable", str(entries["size"]), words["size"])
    if ground is not None:
        entries.setdefault("ground", ground)
    return [entries] * times


def _devices(text: str, devices: Key) -> list[Device]:
    from circuitcheck.circuit.model import Device

    times, rest = _times(text)
    return [Device(kind=_word("--device", rest, devices.parts["kind"].words))] * times


def _leads(texts: Sequence[str] | None, sizes: Sequence[str]) -> tuple[FixtureWires, ...] | None:
    from circuitcheck.circuit.model import FixtureWires
    from circuitcheck.quantities import read_size

    if texts is None or [text.strip().casefold() for text in texts] == [NONE]:
        return None if texts is None else ()
    made = []
    for text in texts:
        times, rest = _times(text)
        size = _read("--leads", text, lambda rest=rest: read_size(rest))  # type: ignore[misc]
        made.append(FixtureWires(size=_size_listed("--leads", size, sizes), count=times))
    return tuple(made)


def _lead_ground(text: str | None, sizes: Sequence[str]) -> str | None:
    from circuitcheck.quantities import read_size

    if text is None or text.strip().casefold() == NONE:
        return text and NONE
    return _size_listed("--lead-ground", _read("--lead-ground", text, lambda: read_size(text)), sizes)


def _volume(flag: str, text: str, key: Key) -> Interval:
    from circuitcheck.quantities import read_interval

    kind = key.kind
    assert kind is not None  # noqa: S101 - a volume has a kind
    return _read(flag, text, lambda: read_interval(text, kind))


def _times(text: str) -> tuple[int, str]:
    """``2 x switch`` as 2 and ``switch``; a thing by itself is there once."""
    counted = _COUNTED.fullmatch(text)
    return (int(counted[1] or 1), counted[2].strip()) if counted else (1, text)


def _word(flag: str, text: str, words: Iterable[str]) -> str:
    known = tuple(words)
    folded = {word.casefold(): word for word in known}
    found = folded.get(" ".join(text.casefold().replace("×", "x").split()))
    if found is not None:
        return found
    near = nearest(text, known)
    more = f'did you mean "{near}"?' if near else f"known are {', '.join(known)}"
    raise CommandError(f'{flag}: "{shown_text(text)}" is not known; {more}')


def _size_listed(flag: str, size: str, sizes: Sequence[str]) -> str:
    if size not in sizes:
        raise CommandError(f"{flag}: the tables have no conductor of {size}; they have {', '.join(sizes)}")
    return size


def _read(flag: str, text: str, read: Callable[[], Read]) -> Read:
    from circuitcheck.quantities import QuantityError

    try:
        return read()
    except QuantityError as error:
        meant = f'; did you mean "{error.nearest}"?' if error.nearest else ""
        allowed = f"; allowed: {error.allowed}" if error.allowed and not meant else ""
        raise CommandError(f'{flag} "{shown_text(text)}": {error.says}{meant}{allowed}') from error
