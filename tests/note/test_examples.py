"""The notes beside our examples, and the golden texts, are what the program writes today."""

import io
from pathlib import Path

import pypdf
import pytest

from making import make_notes

ROOT = Path(__file__).parents[2]
PATHS = [path for name in make_notes.NOTED for path in make_notes.paths(name)]


@pytest.fixture(scope="module")
def notes():
    return make_notes.notes()


def text_of(data):
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.name)
def test_a_note_is_current(path, notes):
    assert path.exists(), "make notes"
    if path.suffix == ".pdf":  # another typst may pack the same page into other bytes
        assert text_of(path.read_bytes()) == text_of(notes[path]), "make notes"
    else:
        assert path.read_bytes() == notes[path], "make notes"


def test_three_examples_have_notes(notes):
    assert list(notes) == PATHS
    assert len({path.name.partition(".")[0] for path in PATHS}) == 3
