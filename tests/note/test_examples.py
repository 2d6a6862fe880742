"""The notes beside our examples, and the golden texts, are what the program writes today."""

import importlib.util
import io
from pathlib import Path

import pypdf
import pytest

ROOT = Path(__file__).parents[2]


def made():
    spec = importlib.util.spec_from_file_location("make_notes", ROOT / "docs" / "make_notes.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.notes()


NOTES = made()


def text_of(data):
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]


@pytest.mark.parametrize("path", NOTES, ids=lambda path: path.name)
def test_a_note_is_current(path):
    assert path.exists(), "make notes"
    if path.suffix == ".pdf":  # another typst may pack the same page into other bytes
        assert text_of(path.read_bytes()) == text_of(NOTES[path]), "make notes"
    else:
        assert path.read_bytes() == NOTES[path], "make notes"


def test_three_examples_have_notes():
    assert len({path.name.partition(".")[0] for path in NOTES}) == 3
