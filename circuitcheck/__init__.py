"""circuitcheck: do new hardwired lights fit on the lighting circuit that is already there?

``check_file(path)`` gives a report; docs/python.md shows the rest. What is listed in ``__all__`` is promised, and is
imported when it is first asked for.

The package is layered; imports point one way (DEVELOPERS.md draws it, ``tests/test_layers.py`` holds it).
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from circuitcheck.api import (
        Circuit,
        CircuitcheckError,
        CircuitFileError,
        CommandError,
        Fault,
        Finding,
        Guess,
        Outcome,
        Problem,
        Report,
        Source,
        Unknown,
        Verdict,
        check,
        check_file,
        fixes,
        read_file,
        read_text,
        rulebooks,
    )

__version__ = "0.1.0"

__all__ = [
    "Circuit",
    "CircuitFileError",
    "CircuitcheckError",
    "CommandError",
    "Fault",
    "Finding",
    "Guess",
    "Outcome",
    "Problem",
    "Report",
    "Source",
    "Unknown",
    "Verdict",
    "__version__",
    "check",
    "check_file",
    "fixes",
    "read_file",
    "read_text",
    "rulebooks",
]


def __getattr__(name: str) -> Any:
    """A promised name, imported now. Raises: AttributeError for any other."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from circuitcheck import api

    value = globals()[name] = getattr(api, name)
    return value


def __dir__() -> list[str]:
    """The promised names, for whoever explores."""
    return sorted(__all__)
