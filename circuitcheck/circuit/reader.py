"""Reading a circuit file: every problem of it at once, or the circuit that it describes."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from circuitcheck.circuit import toml_text
from circuitcheck.circuit.changes import NAME as CHANGES
from circuitcheck.circuit.changes import judge_planned, read_changes
from circuitcheck.circuit.connections import Connections
from circuitcheck.circuit.conversion import Converted, convert
from circuitcheck.circuit.entries import judge_shape
from circuitcheck.circuit.faults import Faults, given_text
from circuitcheck.circuit.keys import FORMAT
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.short.expansion import expand
from circuitcheck.errors import CircuitFileError, Problem

Vocabulary = Mapping[str, tuple[str, ...]]

_BYTE_ORDER_MARK = "\ufeff"


def read_circuit(text: str, file: str, vocabulary: Vocabulary) -> Circuit:
    """The circuit that the text describes. ``file`` is its name in messages.

    Raises: CircuitFileError with all problems that were found.
    """
    text = text.removeprefix(_BYTE_ORDER_MARK)
    try:
        document = toml_text.parsed(text, file)
    except toml_text.TomlSlipsError as wrong:
        problems = [*wrong.problems, *_further_problems(wrong, file, vocabulary)]
        raise CircuitFileError(sorted(problems, key=lambda one: (one.line is None, one.line or 0))) from None
    return circuit_in(document, text, file, vocabulary)


def _further_problems(wrong: toml_text.TomlSlipsError, file: str, vocabulary: Vocabulary) -> list[Problem]:
    """What else is wrong with a text that is no TOML, once its slips are mended; not what only follows from them."""
    slips = {problem.line: problem for problem in wrong.problems}
    rest = wrong.rest
    if rest.document is None:
        return []
    try:
        circuit_in(rest.document, rest.text, file, vocabulary)
    except CircuitFileError as further:
        keys = {problem.key for problem in slips.values()}
        left_out = any(problem.nearest is None for problem in slips.values())
        return [
            problem
            for problem in further.problems
            if problem.line not in slips
            and not any(key and problem.says.startswith(f"{key} is missing") for key in keys)
            # With an entry left out, names and connections may seem to be wrong that are not.
            and not (left_out and problem.line is None)
            and not (
                left_out and problem.says.startswith(("nothing in this file has this name", "no cable feeds", "id is"))
            )
        ]
    return []


def circuit_in(
    document: dict[str, Any], text: str, file: str, vocabulary: Vocabulary, converted: Converted | None = None
) -> Circuit:
    """The circuit in a text that is parsed already; ``text`` serves to find the lines of problems.

    converted: parts of the texts that were read before, under the same vocabulary, and kept for the next.

    Raises: CircuitFileError with all problems that were found.
    """
    faults = Faults(file, text, document)
    if _of_another_format(document, faults):
        raise CircuitFileError(faults.problems())
    long = expand(document, vocabulary, faults, text)
    faults.follow(long.written_place)
    judge_shape(long.document, faults)
    parts = convert(long.document, vocabulary, faults, converted)
    changes = read_changes(long.document, vocabulary, faults) if CHANGES in long.document else ()
    connections = Connections(long.document, faults)
    connections.judge_names()
    if not changes:
        connections.judge_trees()
    if faults:
        raise CircuitFileError(faults.problems())
    circuit = Circuit(file=file, **parts, changes=changes, reasons=long.reasons, written_in=long.written_in)
    if changes:
        judge_planned(circuit, long.document, faults)
        if faults:
            raise CircuitFileError(faults.problems())
    return circuit


def read_bytes(content: bytes, file: str, vocabulary: Vocabulary) -> Circuit:
    """The circuit in these bytes (UTF-8, with or without a byte order mark). Raises: CircuitFileError."""
    return read_circuit(toml_text.decoded(content, file), file, vocabulary)


def read_file(path: Path | str, vocabulary: Vocabulary) -> Circuit:
    """The circuit in this file. Raises: CircuitFileError, also where the file cannot be read at all."""
    return read_bytes(toml_text.read_bytes(Path(path)), str(path), vocabulary)


def _of_another_format(document: dict[str, Any], faults: Faults) -> bool:
    given = document.get("format")
    if not isinstance(given, int) or isinstance(given, bool) or given == FORMAT:
        return False
    says = f"this file has another format than this version reads ({FORMAT})"
    faults.add(("format",), says, given=given_text(given), allowed=f"format = {FORMAT}")
    return True
