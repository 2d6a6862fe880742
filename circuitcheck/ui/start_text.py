"""What the start page offers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from circuitcheck.ui.document.disk import Recovery, file_of_copy, left_behind

ABOUT = (
    "Before a box is opened: do new hardwired lights fit on the lighting circuit that is already there?\n"
    "Tell what you know; leave the rest unknown. The answer is arithmetic on paper, for you and your electrician."
)

_MOST_FILES = 30


@dataclass(frozen=True, slots=True)
class StartItem:
    """A line of the start page. ``way`` is empty for a heading."""

    way: str
    text: str
    about: str = ""
    key: str = ""
    path: Path | None = None
    unsaved: bool = False


def start_items(recent: Sequence[Path], folder: Path) -> list[StartItem]:
    """The ways to begin, unsaved work first among the files."""
    here = circuit_files(folder)
    items = [
        StartItem("new", "New circuit", "a few questions, an answer within a minute", "n"),
        StartItem("open", "Open a file", "a circuit file (*.circuit.toml)", "o"),
        StartItem("example", "Look at an example", "three wall lights along a stair hall, in an invented house", "x"),
        StartItem("box", "Count one box", "is it big enough? no circuit has to be described", "b"),
    ]
    unsaved = unsaved_files([*recent, *here], folder)
    if unsaved:
        items += [StartItem("", ""), StartItem("", "Work that was not saved")]
        items += unsaved
    for title, files in (
        ("Opened last", [path for path in recent if path.is_file()]),
        ("In this folder", [path for path in here if path.resolve() not in recent]),
    ):
        if files:
            items += [StartItem("", ""), StartItem("", title)]
            items += [StartItem("file", path.name, str(path.parent), path=path) for path in files[:_MOST_FILES]]
    return items


def circuit_files(folder: Path) -> list[Path]:
    """The circuit files of a folder, by name."""
    try:
        return sorted(
            path for path in folder.glob("*.circuit.toml") if path.is_file() and not path.name.startswith(".")
        )
    except OSError:
        return []


def unsaved_files(paths: Iterable[Path], folder: Path) -> list[StartItem]:
    """Files of which a recovery copy is left that no running process is at."""
    candidates = {path.resolve() for path in paths}
    try:
        for copy in folder.glob(".*.recovery"):
            candidates.add(file_of_copy(copy).resolve())
    except OSError:
        pass
    items: list[StartItem] = []
    for path in sorted(candidates):
        waiting = left_behind(path)
        if waiting:
            more = f" and {len(waiting) - 1} more" if len(waiting) > 1 else ""
            when = _when(waiting[0].written)
            items.append(
                StartItem("file", path.name, f"copy kept {when}{more}, {path.parent}", path=path, unsaved=True)
            )
    return items


def _when(stamp: str) -> str:
    try:
        return datetime.fromisoformat(stamp).strftime("%Y-%m-%d %H:%M")
    except ValueError:
        return "earlier"


def copy_told(recovery: Recovery) -> str:
    """Which recovery copy it is: its own name and its time."""
    return f'"{recovery.copy.name}", of {_when(recovery.written)}'


def other_told(path: Path, other: Recovery) -> str:
    """That another session works on the file, and where its work that is not saved stands."""
    return (
        f"Another circuitcheck (process {other.process}) has {path.name} open, with work that is not saved. "
        f"Its copy is {copy_told(other)}. Save in one of them only."
    )
