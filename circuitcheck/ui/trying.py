"""Whether the screens open here and whether they can be shown in a browser: for the program's test of itself."""

from __future__ import annotations

import asyncio
from importlib.metadata import PackageNotFoundError, version


def try_screens() -> str:
    """Open the start page without a terminal and close it again. Returns the library's version.

    Raises: whatever opening raises.
    """
    from circuitcheck.ui.app import CircuitApp
    from circuitcheck.ui.screens.start import StartScreen

    async def opened() -> bool:
        app = CircuitApp(None)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            return isinstance(app.screen, StartScreen)

    if not asyncio.run(opened()):
        raise RuntimeError("the start page did not open")
    return version("textual")


def try_serving() -> str | None:
    """The version of what shows the screens in a browser, or None where that extra is not installed.

    Raises: ImportError where it is installed and cannot be loaded.
    """
    try:
        installed = version("textual-serve")
    except PackageNotFoundError:
        return None
    from textual_serve.server import Server  # noqa: F401  (whether it can be loaded)

    return installed
