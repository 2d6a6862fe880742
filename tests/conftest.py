"""Which files of tests come first, and what tests have to tell besides passing, from whichever process it comes."""

import gc
from pathlib import Path

#: Circuits are many small objects that hold no cycles: to look through them as often as Python does took a sixth of
#: the time of the tests.
gc.set_threshold(50_000, 20, 50)

_TESTS = Path(__file__).parent
#: The files that take longest come first, so that no core waits for the last of them; those of screens, which wait a
#: good part of their time, stand among others, which do not.
_LONGEST_FIRST = (
    "ui/test_working_page.py",
    "checking/test_refinement.py",
    "ui/test_sizes_and_text.py",
    "generating/test_circuits.py",
    "ui/test_serve.py",
    "test_docs.py",
    "ui/test_recovery.py",
    "sheets/test_injection.py",
    "note/test_injection.py",
    "note/test_pdf.py",
    "ui/test_planned_changes.py",
    "checking/test_check_again.py",
    "cli/test_streams.py",
    "advice/test_fixes.py",
    "circuit/test_reader.py",
    "advice/test_bought_as_said.py",
    "sheets/test_browser.py",
    "ui/test_plain.py",
    "oracle/test_second_opinion.py",
    "note/test_sums.py",
    "rules/test_voltage_drop.py",
    "advice/test_questions.py",
    "ui/test_fixes_on_screen.py",
    "advice/test_room_left.py",
    "rules/test_low_voltage_drop.py",
    "generating/test_narrowing.py",
    "checking/test_numbers_in_order.py",
    "ui/test_guided_start.py",
    "cli/test_check.py",
    "sheets/test_plan.py",
    "test_wheel.py",
    "ui/test_what_if.py",
    "ui/test_keys_in_turn.py",
    "ui/test_drawing_and_gauges.py",
    "cli/test_questions_page.py",
)


def pytest_collection_modifyitems(items):
    """The longest files first; the others, and the tests within a file, stay in their order."""
    place = {_TESTS / name: number for number, name in enumerate(_LONGEST_FIRST)}
    items.sort(key=lambda item: place.get(item.path, len(place)))


def pytest_collection_finish():
    """What was collected stays to the end, so it is never looked through again."""
    gc.collect()
    gc.freeze()


def pytest_terminal_summary(terminalreporter):
    """Print what tests recorded as ``told``: counts that a reader should see although nothing failed."""
    for outcome in ("passed", "failed"):
        for report in terminalreporter.stats.get(outcome, ()):
            for name, told in getattr(report, "user_properties", ()):
                if name == "told" and report.when == "call":
                    terminalreporter.section(report.nodeid)
                    terminalreporter.write_line(told)
