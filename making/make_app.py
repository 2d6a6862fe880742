"""Builds the program as a single file that needs no Python, for the platform that this runs on: dist/circuitcheck.

With tables, examples, PDF and screens in it. Run: make app
"""

from __future__ import annotations

import platform
import shutil
import sys
from pathlib import Path

import PyInstaller.__main__

ROOT = Path(__file__).parents[1]
BUILT = ROOT / "build" / "app"
DIST = ROOT / "dist"

#: What the package finds beside its own modules when it is installed: from where in the clone, and to where.
BESIDE = {
    "tables": "circuitcheck/tables/data",
    "examples": "circuitcheck/examples",
    "docs/circuit-file.schema.json": "circuitcheck/docs",
}

#: Libraries that load parts of themselves by name.
WHOLE = ("circuitcheck", "textual", "textual_serve", "rich", "pydantic", "shtab")

#: Libraries whose version is looked up while the program runs.
VERSIONS = ("circuitcheck", "textual", "textual-serve", "typst", "pint", "pydantic")

#: What libraries would bring along for uses that we have none of.
LEFT_OUT = ("tkinter", "numpy", "scipy", "matplotlib", "pandas", "IPython", "pytest", "hypothesis", "mypy")


def arguments() -> list[str]:
    """The command line for PyInstaller."""
    given = [str(ROOT / "circuitcheck" / "__main__.py"), "--name", "circuitcheck", "--onefile", "--console"]
    given += ["--distpath", str(DIST), "--workpath", str(BUILT), "--specpath", str(BUILT), "--noconfirm", "--clean"]
    given += ["--log-level", "WARN"]
    for source, target in BESIDE.items():
        given += ["--add-data", f"{ROOT / source}:{target}"]
    for library in WHOLE:
        given += ["--collect-submodules", library, "--collect-data", library]
    for library in VERSIONS:
        given += ["--copy-metadata", library]
    for library in LEFT_OUT:
        given += ["--exclude-module", library]
    return given


def main() -> None:
    """Build it and say where it is and how large."""
    PyInstaller.__main__.run(arguments())
    name = "circuitcheck.exe" if sys.platform == "win32" else "circuitcheck"
    program = DIST / name
    shutil.rmtree(BUILT)
    megabytes = program.stat().st_size / 1e6
    print(f"{program.relative_to(ROOT)}: {megabytes:.0f} MB, for {platform.system()} {platform.machine()}")


if __name__ == "__main__":
    main()
