"""The file appears whole or not at all, and only where it may."""

import os
import stat

import pytest

from circuitcheck.checking import check
from circuitcheck.errors import CommandError
from circuitcheck.note import write_note
from circuitcheck.paper import writing
from circuitcheck.tables.rulebook import load_rulebook
from tests.note.build import FORMS, MADE, small


def write(output, *, replace=False):
    built, book = small(), load_rulebook("nec-2023")
    write_note(check(built, book), built, book, b"file", output, replace=replace, made=MADE)


@pytest.mark.parametrize("form", FORMS)
def test_the_ending_chooses_the_form(tmp_path, form):
    write(tmp_path / f"note{form}")
    start = {".txt": b"FOR REVIEW", ".md": b"# test", ".html": b"<!DOCTYPE html>", ".pdf": b"%PDF-"}[form]
    assert (tmp_path / f"note{form}").read_bytes().startswith(start)
    assert [path.name for path in tmp_path.iterdir()] == [f"note{form}"]


def test_endings_may_be_capitals(tmp_path):
    write(tmp_path / "NOTE.HTML")
    assert (tmp_path / "NOTE.HTML").read_bytes().startswith(b"<!DOCTYPE html>")


@pytest.mark.parametrize("name", ["note.docx", "note", ".html", "html", "note.html.bak"])
def test_another_ending_names_the_four(tmp_path, name):
    with pytest.raises(CommandError, match=r"\.html, \.pdf, \.md, \.txt"):
        write(tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_there_stays(tmp_path):
    output = tmp_path / "note.txt"
    output.write_text("mine")
    with pytest.raises(CommandError, match="--replace"):
        write(output)
    assert output.read_text() == "mine"


def test_replace_replaces_and_keeps_the_rights(tmp_path):
    output = tmp_path / "note.txt"
    output.write_text("mine")
    output.chmod(0o640)
    write(output, replace=True)
    assert output.read_text().startswith("FOR REVIEW")
    assert stat.S_IMODE(output.stat().st_mode) == 0o640


def test_a_new_file_has_the_usual_rights(tmp_path):
    mask = os.umask(0o022)
    try:
        write(tmp_path / "note.txt")
    finally:
        os.umask(mask)
    assert stat.S_IMODE((tmp_path / "note.txt").stat().st_mode) == 0o644


def test_a_link_is_followed_when_replacing(tmp_path):
    real, link = tmp_path / "real.txt", tmp_path / "link.txt"
    real.write_text("mine")
    link.symlink_to(real)
    with pytest.raises(CommandError, match="--replace"):
        write(link)
    write(link, replace=True)
    assert link.is_symlink()
    assert real.read_text().startswith("FOR REVIEW")


def test_a_missing_folder_is_said(tmp_path):
    with pytest.raises(CommandError, match="there is no folder"):
        write(tmp_path / "nowhere" / "note.txt")


def test_a_folder_by_that_name_is_said(tmp_path):
    (tmp_path / "note.txt").mkdir()
    with pytest.raises(CommandError, match="is a folder"):
        write(tmp_path / "note.txt", replace=True)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_folder_without_rights_is_said(tmp_path):
    tmp_path.chmod(0o500)
    with pytest.raises(CommandError, match="cannot be written"):
        write(tmp_path / "note.txt")


def test_a_full_disk_leaves_what_was_there(tmp_path, monkeypatch):
    output = tmp_path / "note.txt"
    output.write_text("mine")

    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(writing.os, "fsync", full)
    with pytest.raises(CommandError, match="No space left on device"):
        write(output, replace=True)
    assert output.read_text() == "mine"
    assert [path.name for path in tmp_path.iterdir()] == ["note.txt"]


def test_a_file_that_came_meanwhile_is_not_overwritten(tmp_path, monkeypatch):
    output = tmp_path / "note.txt"
    refuse = writing.refuse_output
    monkeypatch.setattr(
        writing, "refuse_output", lambda *given, **more: (refuse(*given, **more), output.write_text("new"))
    )
    with pytest.raises(CommandError, match="already exists"):
        write(output)
    assert output.read_text() == "new"
    assert [path.name for path in tmp_path.iterdir()] == ["note.txt"]


def test_without_typst_the_way_to_get_it_is_said(tmp_path, monkeypatch):
    import sys

    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(CommandError, match=r"pip install '\.\[pdf\]'"):
        write(tmp_path / "note.pdf")
    assert list(tmp_path.iterdir()) == []
