"""Entry point: reads the command line, runs one subcommand, turns what went wrong into a line and an exit status."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence

from circuitcheck import __version__
from circuitcheck.cli import statuses
from circuitcheck.cli.commands import COMMANDS
from circuitcheck.cli.parser import parser_of
from circuitcheck.cli.problems import problem_lines
from circuitcheck.cli.streams import finish, prepare_streams, talk_style, tell
from circuitcheck.errors import CircuitcheckError, CircuitFileError, nearest
from circuitcheck.text import shown_text


def run_and_end() -> None:
    """Run the command line of this process and end the process with its status.

    A check is over in a third of a second: collecting garbage and taking the interpreter apart at the end would be a
    good part of that, so it does without both. The screens stay open and keep them.
    """
    arguments = sys.argv[1:]
    name = _command_of(arguments)
    if name not in COMMANDS or COMMANDS[name].stays_open:
        sys.exit(main(arguments))
    gc.disable()
    os._exit(main(arguments))


def main(arguments: Sequence[str]) -> int:
    """Run one command line. Returns the exit status; never raises."""
    prepare_streams()
    try:
        status = _status_of_run(list(arguments))
        finish()
    except KeyboardInterrupt:
        tell("circuitcheck: stopped; nothing was written")
        return statuses.INTERRUPTED
    except CircuitFileError as wrong:
        for line in problem_lines(wrong.problems, talk_style()):
            tell(line)
        return statuses.WRONG_INPUT
    except CircuitcheckError as wrong:
        tell(f"circuitcheck: {shown_text(str(wrong))}")
        return statuses.WRONG_INPUT
    except MemoryError:
        tell("circuitcheck: this machine has not enough memory for that file; nothing was written")
        return statuses.WRONG_INPUT
    except Exception as fault:  # the last door: our own mistake, which must not leave with status 1
        tell_fault(fault, show_traceback="--traceback" in arguments)
        return statuses.FAULT
    return status


def tell_fault(fault: Exception, *, show_traceback: bool) -> None:
    """One line on a fault of our own and how to report it; the whole traceback when asked."""
    if show_traceback:
        import traceback

        tell("".join(traceback.format_exception(fault)).rstrip())
    what = f"{type(fault).__name__}: {shown_text(str(fault))}"
    tell(
        f"circuitcheck {__version__}: a fault of the program itself, so no answer ({what}). "
        "Please report it: run the same command with --traceback and send what it prints, with the circuit file, "
        "to the project's issue list."
    )


def _status_of_run(arguments: list[str]) -> int:
    """The exit status, also where the command line's reader ends the run itself, as after ``--help``."""
    try:
        return _run(arguments)
    except SystemExit as done:
        return done.code if isinstance(done.code, int) else statuses.FITS


def _run(arguments: list[str]) -> int:
    name = _command_of(arguments)
    parser = parser_of([name] if name is not None else [])
    if name is not None and name not in COMMANDS:
        parser.error(_unknown_command(name))
    parsed = parser.parse_args(arguments)
    if parsed.command is None:
        from circuitcheck.cli import edit

        return edit.open_screens(None, plain=parsed.plain)
    return COMMANDS[parsed.command].load().run(parsed)


def _command_of(arguments: Sequence[str]) -> str | None:
    return next((word for word in arguments if not word.startswith("-")), None)


def _unknown_command(name: str) -> str:
    shown = shown_text(name)
    near = nearest(name, COMMANDS)
    if near:
        return f'there is no command "{shown}"; did you mean "{near}"?'
    if name.endswith(".toml"):
        return f'there is no command "{shown}"; to check that file: circuitcheck check {shown}'
    return f'there is no command "{shown}"; the commands are {", ".join(COMMANDS)}'
