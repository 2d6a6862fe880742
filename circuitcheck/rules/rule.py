"""What a rule is: a name, what it uses, and a pure function from circuit and rulebook to findings."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding
from circuitcheck.tables.rulebook import Rulebook


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule. Its module's docstring holds the explanation for people; ``docs/checks/`` is generated from it.

    name: the check's name, as in the report; the module, the test and the docs page carry the same name.
    title: one plain line.
    family: the folder of its file: "evidence", or one of the families of rules of cases.
    uses: names of the tables (``"ampacity"``) and single values (``"value:continuous-load-factor"``) it may cite.
    check: the function. It opens nothing and remembers nothing.
    """

    name: str
    title: str
    family: str
    uses: tuple[str, ...]
    check: Callable[[Circuit, Rulebook], Iterable[Finding]]

    @property
    def module(self) -> str:
        """Where it stands."""
        return self.check.__module__
