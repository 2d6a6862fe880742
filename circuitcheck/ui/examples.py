"""The bundled examples: inside the package when installed from a wheel, else the checkout's own."""

from __future__ import annotations

from pathlib import Path


def example_text(name: str) -> str:
    """The example's text."""
    packed = Path(__file__).parents[1] / "examples"
    folder = packed if packed.is_dir() else Path(__file__).parents[2] / "examples"
    return (folder / name).read_text("utf-8")
