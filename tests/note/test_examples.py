"""The notes beside our examples, and the golden texts, are what the program writes today."""

import io
from pathlib import Path

import pypdf
import pytest

from making import make_notes

ROOT = Path(__file__).parents[2]


NOTES = make_notes.notes()


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
