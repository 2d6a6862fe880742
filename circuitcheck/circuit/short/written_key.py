"""What a key of the long form is called in the file as its owner wrote it."""

from __future__ import annotations

from circuitcheck.circuit.guide import entry_ref
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import is_of_what_was_found
from circuitcheck.circuit.short.light_keys import NAME_IN_LIGHT


def written_key(key: str, circuit: Circuit) -> str:
    """``light.wall 1.box_material`` for ``box.wall 1 box.material``; the key itself where the part has a table.

    What a change puts in the place of a part is written in the change: ``change.box.attic.new.volume``.
    """
    ref = entry_ref(key)
    part, entry = str(ref.part), ref.key
    if not entry or str(ref) != key:  # a part, or an entry within a list
        return key
    if circuit.before is not None and not is_of_what_was_found(ref, circuit):
        replaced = {str(ref) for ref in circuit.before.replaced | circuit.before.moved}
        if part in replaced:
            return f"change.{part}.new.{entry}"
    table = circuit.written_in.get(part)
    if table is None:
        return key
    return f"{table}.{NAME_IN_LIGHT.get((ref.section, entry), entry)}"
