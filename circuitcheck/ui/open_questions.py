"""What is still to be found out, as questions, what settles most first.

One question stands for the same entry of several parts where it is found out in the same way: a part still to be bought
is another question than one that is there.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from circuitcheck.circuit.guide import entry_ref, key_of
from circuitcheck.findings import Report
from circuitcheck.ui.titles import entry_title


@dataclass(frozen=True, slots=True)
class OpenQuestion:
    """An entry that open answers wait for.

    ``keys`` are its key paths, ``parts`` the ids of the parts, ``settles`` how many open answers wait for it, ``how``
    the cheapest way to find it out.
    """

    title: str
    keys: tuple[str, ...]
    parts: tuple[str, ...]
    settles: int
    how: str

    @property
    def line(self) -> str:
        """The question in a line: ``Clamps inside: starting box``."""
        named = ", ".join(self.parts[:3]) + (f" and {len(self.parts) - 3} more" if len(self.parts) > 3 else "")
        return f"{self.title}: {named}" if named else self.title


def open_questions(report: Report, without: Collection[str] = ()) -> tuple[OpenQuestion, ...]:
    """The questions of a report; ``without``: key paths that nobody can find out."""
    waiting: dict[str, int] = {}
    for finding in report.findings:
        for key in finding.needs:
            waiting[key] = waiting.get(key, 0) + 1
    grouped: dict[tuple[object, str], list[str]] = {}
    for unknown in report.unknowns:
        if unknown.decides and unknown.key not in without:
            grouped.setdefault((key_of(unknown.key), unknown.how_to_find), []).append(unknown.key)
    made = [
        OpenQuestion(
            entry_title(keys[0]),
            tuple(keys),
            tuple(dict.fromkeys(name for key in keys if (name := _part_name(key)))),
            sum(waiting.get(key, 0) for key in keys),
            how,
        )
        for (_, how), keys in grouped.items()
    ]
    return tuple(sorted(made, key=lambda question: -question.settles))


def _part_name(key: str) -> str:
    """The id of the part whose entry it is; nothing for the panel, the place and the job."""
    return entry_ref(key).id
