"""What the file does not say of a part itself, but has from another one (``like``): ``as "wall 1"`` and the entries."""

from __future__ import annotations

from circuitcheck.circuit.guide import entry_guide, key_of
from circuitcheck.circuit.model import Circuit

_FROM = "as "


def taken_over(circuit: Circuit) -> tuple[str, ...]:
    """One line for each part that others are like: ``“wall 2”, “wall 3” as “wall 1”: power, cable type``."""
    alike: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    entries: dict[tuple[str, str], dict[str, None]] = {}
    for path, reason in circuit.reasons.items():
        named = key_of(path)
        if not reason.startswith(_FROM) or named is None:
            continue
        section, key = named
        part = path.removeprefix(f"{section}.").removesuffix(f".{key}")
        title = entry_guide(section, key).title
        written_in = circuit.written_in.get(f"{section}.{part}", part).removeprefix("light.")
        entries.setdefault((reason.removeprefix(_FROM), written_in), {})[f"{title[0].lower()}{title[1:]}"] = None
    for (model, part), titles in entries.items():
        alike.setdefault((model, tuple(titles)), []).append(f"“{part}”")
    return tuple(f"{', '.join(parts)} as “{model}”: {', '.join(titles)}" for (model, titles), parts in alike.items())
