"""Whether a PDF can be made here, and which letters its typefaces have: for the program's test of itself."""

from __future__ import annotations

from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version

from circuitcheck.errors import CommandError
from circuitcheck.paper.outline import Outline

#: A word in each of the scripts that names in a house's papers are likely to be written in.
SCRIPTS = {
    "Latin": "Ångström",
    "Greek": "Ωμέγα",
    "Cyrillic": "Щука",
    "Hebrew": "שלום",
    "Arabic": "سلام",
    "Devanagari": "नमस्ते",
    "Chinese": "漢字",
    "Japanese": "かな",
    "Korean": "한글",
    "Thai": "ไทย",
}


@dataclass(frozen=True, slots=True)
class PdfTrial:
    """What a trial of the PDF gave: the library's version, and the scripts that stand as letters and as numbers."""

    version: str
    letters: tuple[str, ...]
    numbers: tuple[str, ...]


def try_pdf(outline: Outline) -> PdfTrial | None:
    """Set ``outline`` as a PDF and look which scripts can be set; None where the extra that does it is not installed.

    Raises: CommandError, or what the library raises, where it is installed and does not work.
    """
    try:
        installed = version("typst")
    except PackageNotFoundError:
        return None
    from circuitcheck.paper.pdf_form import characters_without_letters, pdf_bytes

    if not pdf_bytes(outline, paper="letter").startswith(b"%PDF-"):
        raise CommandError("what was made is no PDF")
    lacking = characters_without_letters(SCRIPTS.values())
    numbers = tuple(script for script, word in SCRIPTS.items() if lacking & set(word))
    return PdfTrial(installed, tuple(script for script in SCRIPTS if script not in numbers), numbers)
