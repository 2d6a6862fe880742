"""The bundled example files: inside the package when installed from a wheel, else the checkout's own."""

from __future__ import annotations

from contextlib import AbstractContextManager
from importlib.resources import as_file, files
from pathlib import Path


def example_file(name: str) -> AbstractContextManager[Path]:
    """The example of that name as a real file, for as long as the context lasts."""
    packed = files("circuitcheck") / "examples"
    if packed.is_dir():
        return as_file(packed / name)
    return as_file(Path(__file__).parents[2] / "examples" / name)
