"""Trying in lines: fixes seen before they are taken, changes planned, what-ifs, and the room left."""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.advice.room_left import room_left_at
from circuitcheck.advice.room_words import room_words
from circuitcheck.circuit.change import MOVE, REPLACE
from circuitcheck.circuit.edits import EditError
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.written.block import Block
from circuitcheck.findings import Finding
from circuitcheck.outcomes import OUTCOME_MARK, OUTCOME_WORD, STOP_WORD, VERDICT_WORD
from circuitcheck.safety import ONE_LINE
from circuitcheck.tables.rulebook import load_rulebook
from circuitcheck.ui.examining import Checked
from circuitcheck.ui.fixing import FIXABLE, carry_out, fix_page, fix_title, search_fixes
from circuitcheck.ui.part_text import part_title
from circuitcheck.ui.parts.planning import (
    ACTION_SAYS,
    actions_for,
    change_of,
    ends_of,
    is_change,
    is_there,
    plan,
    ref_of,
    why_no_change,
)
from circuitcheck.ui.plain.talk import Talk
from circuitcheck.ui.room_finding import parts_of
from circuitcheck.ui.spans import Line, line_text
from circuitcheck.ui.what_if import mark_lines, side_by_side
from circuitcheck.ui.workbench import Workbench


def say_spoken(talk: Talk, lines: Iterable[Line]) -> None:
    """Says the lines of a screen page without the marks that are read aloud."""
    for line in lines:
        text = line_text(line)
        for outcome, mark in OUTCOME_MARK.items():
            for word in (OUTCOME_WORD[outcome], STOP_WORD):
                text = text.replace(f"{mark} {word}", word)
        indent = " " * (len(text) - len(text.lstrip()))
        talk.say(text.strip().replace("→", "to"), indent)


def offer_fixes(talk: Talk, bench: Workbench, checked: Checked, finding: Finding | None) -> bool:
    """Looks for fixes and shows the one asked for; whether one was taken into the plan."""
    if checked.report is None or checked.circuit is None:
        talk.say("No fixes yet: correct what the findings name first.")
        return False
    if finding is not None and finding.outcome not in FIXABLE:
        talk.say("This passes: there is nothing to fix.")
        return False
    talk.say("Looking for changes that clear it. Ctrl+C leaves that; nothing is written.")
    try:
        found = search_fixes(checked.circuit, checked.report, finding, lambda _: None)
    except KeyboardInterrupt:
        talk.say("Left. Nothing is written.")
        return False
    fixes = found.fixes.fixes
    for fault in found.fixes.faults:
        talk.say(fault.line)
    if found.fixes.why_none:
        talk.say(found.fixes.why_none)
    for number, fix in enumerate(fixes, start=1):
        talk.say(f"{number}. then {VERDICT_WORD[fix.report.verdict]}: {fix_title(fix)}")
    for way in found.fixes.other_ways if not checked.report.stop else ():
        talk.say(f"Another way: {way}")
    while fixes:
        picked = talk.ask_number("Which one to look at? An empty line goes back.", [fix_title(fix) for fix in fixes])
        if picked is None:
            return False
        fix = fixes[picked - 1]
        talk.heading(f"Fix {picked}, not in the plan yet")
        say_spoken(talk, fix_page(fix, found.room[picked - 1], checked.report, checked.circuit, talk.width))
        talk.say(ONE_LINE)
        if talk.ask_yes("Take it into the plan?"):
            edits = tuple(edit for step in fix.steps for edit in step.edits)
            try:
                carry_out(bench.document, edits, f"plan: {fix_title(fix)}")
            except (EditError, ValueError) as trouble:
                talk.say(f"Not taken: {trouble}")
                return False
            talk.say("It is in the plan, not done yet. Undo takes it back.")
            return True
    return False


def ask_plan(talk: Talk, bench: Workbench) -> bool:
    """Plans a change of the part one stands on, and stands on it; whether there is one to enter something in."""
    part, document = bench.part, bench.document
    planned = part if is_change(part) else change_of(document, part)
    if planned is not None:
        bench.standing = planned.number
        return True
    if not is_there(part):
        talk.say(why_no_change(part))
        return False
    talk.say(ONE_LINE)
    says = {action: ACTION_SAYS[action] for action in actions_for(part)}
    if part.section == "supply":
        says[REPLACE] = "Another device of the same rating, by an electrician"
    for number, text in enumerate(says.values(), start=1):
        talk.say(f"{number}. {text}")
    picked = talk.ask_number("What is planned? An empty line goes back.", list(says.values()))
    if picked is None:
        return False
    action = list(says)[picked - 1]
    new = _place(talk, bench, part) if action == MOVE and ends_of(part) else {}
    if new is None:
        return False
    bench.standing = plan(document, part, action, new).part
    talk.say(f"Planned for {part_title(part.section, part.data)}. What is there stays in the file.")
    return action != "remove"


def _place(talk: Talk, bench: Workbench, part: Block) -> dict[str, object] | None:
    """Where a part goes that is moved; None: nowhere after all."""
    keys = SECTIONS[ref_of(part).section].keys
    places = [
        (end, name)
        for end in ends_of(part)
        for name in bench.document.ids(keys[end].refers)
        if name not in (part.data.get(end), part.id)
    ]
    for number, (end, name) in enumerate(places, start=1):
        talk.say(f"{number}. {keys[end].title}: {name}")
    picked = talk.ask_number("Where does it go? An empty line goes back.", [name for _, name in places])
    return None if picked is None else dict([places[picked - 1]])


def say_room(talk: Talk, bench: Workbench, checked: Checked) -> None:
    """Says the room left at the part one stands on."""
    report, circuit = checked.report, checked.circuit
    if report is None or circuit is None:
        talk.say("Not known yet: correct what the findings name first.")
        return
    if report.faults or report.stop:
        talk.say("No room is told while a check is missing." if report.faults else "No room is told: stop here first.")
        return
    book = load_rulebook(circuit.job.rulebook)
    parts = parts_of(bench.document, bench.part)
    found = [room for part in parts for room in room_left_at(part, report, circuit, book)]
    title = part_title(bench.part.section, bench.part.data)
    talk.say(f"Room left, {title}: {room_words(found)}." if found else f"No room is counted for {title}.")


def say_mark(talk: Talk, bench: Workbench, checked: Checked) -> None:
    """Says that a what-if is on, and what comes of it; nothing where none is."""
    if bench.what_if.on:
        say_spoken(talk, mark_lines(bench.what_if, checked, 200))


def begin_what_if(talk: Talk, bench: Workbench, checked: Checked) -> None:
    """Begins a what-if; while one is on, says it side by side with what was."""
    if bench.what_if.on:
        say_spoken(talk, side_by_side(bench.what_if, checked, talk.width, stacked=True))
        return
    bench.what_if.begin(checked)
    talk.say("What if: change anything. keep keeps it as one step, drop drops it, other begins a second one.")
    talk.say("what if says it beside what was.")


def end_what_if(talk: Talk, bench: Workbench, checked: Checked, how: str) -> bool:
    """Keeps or drops the what-if, or goes on with the other; whether one was on."""
    what_if = bench.what_if
    if not what_if.on:
        talk.say("No what-if is on: what if begins one.")
        return False
    if how == "keep":
        named = what_if.keep()
        talk.say(f"Kept: {named}." if named else "Nothing was changed, so nothing is kept.")
    elif how == "drop":
        number = what_if.number
        what_if.drop()
        talk.say(f"What if {number} is dropped" + (f"; what if {what_if.number} is on again." if what_if.on else "."))
    else:
        what_if.other(checked)
        talk.say(f"What if {what_if.number} is on; the other is set aside.")
    bench.drop_lost_drafts()
    return True
