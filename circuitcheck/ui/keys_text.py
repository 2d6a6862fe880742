"""Help pages: what each page is for and which key does what."""

from __future__ import annotations

from collections.abc import Sequence

from circuitcheck.ui.spans import Line, wrapped_lines

#: Which of these comes first in the help of each pane.
_FIRST = {"circuit": "A part", "entries": "An entry", "findings": "A finding"}

_WORKING: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    (
        "Moving about",
        (
            ("Up Down", "move in a list; Enter opens the selected line, Esc goes back"),
            ("Tab", "the next part of the page; Shift+Tab the one before"),
            ("t f e", "to the circuit, to the findings, to the entries"),
            ("n", "to the question that settles the most, shown as 1 of all; again: to the next"),
            ("/", "find a part by its name; in the findings a finding, in the entries an entry"),
            ("mouse", "a click moves, a second click opens; hold Shift to mark text for your terminal's own copy"),
        ),
    ),
    (
        "An entry",
        (
            ("Enter", "type into it, or open its list; a digit starts typing at once"),
            ("Enter Tab", "in the open field: keep what is typed; when a meaning is offered, Enter again keeps that"),
            ("Esc", "in the open field or list: leave it as it was before; Ctrl+Z does the same"),
            ("m l g", "it was measured, read from a label, guessed; the same key again takes that off"),
            ("u Delete", "it is unknown; the worst case is assumed where there is one"),
            ("i", "nobody can find it out: n leaves it out, and it is remembered; i again takes that back"),
            ("h", "the whole explanation: where to read it, a picture, what if it cannot be found"),
            ("Space", "turn yes, no, unknown"),
        ),
    ),
    (
        "A part",
        (
            ("a", "add a light, box, load, switch or driver at the selected part"),
            ("C", "plan a change of a part that is there: replace, take away, move, alter; its facts stay as they are"),
            ("d", "one more like it"),
            ("r", "it is one of your own products: copy its label data from products.toml beside the file"),
            ("c v", "copy it; paste the copy at the selected part"),
            ("- +", "move it up or down among parts of the same kind"),
            (
                "x Delete",
                "delete it with everything fed from it; a part that is there: plan to take it away, or delete it",
            ),
        ),
    ),
    (
        "A finding",
        (
            ("Enter", "the whole of it: numbers, working, sources, what to do, and the entries that decide it"),
            ("F", "fixes for it: each seen whole before anything is written; elsewhere: for all that fails or is open"),
            ("n p", "in a finding: the next one, the one before"),
            ("p", "in the list: show what passes, check by check, or fold it again"),
            ("o", "only what decides: what fails and what is open; again: all"),
            ("/", "only those that have these words; Enter goes to one"),
        ),
    ),
    (
        "What if",
        (
            ("W", "begin one: change anything and watch the answer; a mark stays on screen while one is on"),
            ("K X", "keep it as one step, or drop it as if nothing had been changed"),
            ("W", "while one is on: side by side with what was; there W sets it aside and begins a second one"),
        ),
    ),
    (
        "The file",
        (
            ("z y", "undo and redo, as far back as you like; Ctrl+Z and Ctrl+Y do the same"),
            ("s", "save (Ctrl+S too); a copy for recovery is kept beside the file all the time"),
            ("w", "write the note for an electrician or inspector"),
            ("q", "leave; Ctrl+Q leaves the program"),
            ("Ctrl+P", "every command by name, and the themes (dark, light, high contrast)"),
        ),
    ),
)

_MARKS: tuple[tuple[str, str], ...] = (
    ("✗", "fails, or an entry that must be corrected"),
    ("?", "cannot tell until something is found out"),
    ("!", "a caution: allowed, with something to keep in mind"),
    ("✓", "passes"),
    ("+", "added by this job; parts without it are there already"),
    ("M L G", "measured, read from a label, guessed"),
    ("[███▒▒░░]", "a bar: sure, between best and worst, left; ▶ at its end: over the limit"),
)


_START: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    (
        "Ways to begin",
        (
            ("n", "a new circuit: a few questions, in the order you would find things out"),
            ("o", "open a circuit file"),
            ("x", "a copy of the example, to try everything out"),
            ("b", "count one box: what is in it, the worksheet, the room left and the smallest box that would do"),
            ("Up Down", "move in the list; Enter chooses the selected line, and so does a click"),
            ("q", "leave; Ctrl+Q does the same"),
            ("Ctrl+P", "every command by name, and the themes (dark, light, high contrast)"),
        ),
    ),
)


def working_help(width: int, pane: str = "circuit") -> Sequence[Line]:
    """Help for the working page: the keys of the pane one is in (circuit, entries, findings) first."""
    about = (
        "On the left the circuit as it runs from the panel, and what the checks say, worst first. On the right the "
        "selected part. Enter what you know; leave the rest unknown. Every entry is checked at once."
    )
    first = _FIRST[pane]
    ordered = sorted(_WORKING, key=lambda titled: titled[0] != first)
    return _help(about, (*ordered, ("Marks", _MARKS)), width)


def start_help(width: int) -> Sequence[Line]:
    """Help for the start page."""
    about = (
        "You describe the lighting circuit that is there and the lights you want to add. What you do not know stays "
        "unknown, and the answer says what to find out."
    )
    return _help(about, _START, width)


def _help(about: str, titled: Sequence[tuple[str, Sequence[tuple[str, str]]]], width: int) -> Sequence[Line]:
    lines: list[Line] = wrapped_lines(about, width)
    for title, keys in titled:
        lines += [(("", "plain"),), ((title, "strong"),)]
        for key, does in keys:
            first, *rest = wrapped_lines(does, width - 12)
            lines.append(((f"  {key:<10}", "added"), *first))
            lines += [((" " * 12, "plain"), *line) for line in rest]
    return lines
