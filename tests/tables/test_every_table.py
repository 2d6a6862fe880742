"""What must hold for every shipped table and value, whoever wrote it."""

import re
import tomllib
from collections import Counter

import pytest

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.errors import TableError
from circuitcheck.findings import Reading, Source, Status
from circuitcheck.tables.editions import tables_folder
from circuitcheck.tables.rulebook import (
    all_table_names,
    all_value_names,
    edition_details,
    editions,
    load_rulebook,
    newest_edition,
    read_table,
    vocabulary,
)
from circuitcheck.tables.values import value_by_edition


def all_sources() -> list[tuple[str, Source]]:
    found = []
    for name in all_table_names():
        for table in read_table(name).tables.values():
            found += [(f"{name} {row.key}", row.source) for row in table.rows]
    for name in all_value_names():
        found += [(name, value.source) for value in value_by_edition(name).values()]
    return found


def test_the_three_rulebooks_are_there_oldest_first() -> None:
    assert editions("nec") == ("nec-2017", "nec-2020", "nec-2023")
    assert newest_edition() == "nec-2023"
    for edition in edition_details():
        assert edition.title
        assert edition.country
        assert edition.document
        assert edition.year
        assert edition.about


def test_every_file_in_the_folder_is_known() -> None:
    """A misspelt values file would silently be no file at all."""
    for file in tables_folder().iterdir():
        if file.name == "possible":
            assert {row.stem for row in file.iterdir()} == set(SECTIONS)
            continue
        assert file.suffix == ".toml"
        known = file.stem == "rulebooks" or file.stem.startswith("values-") or file.stem in all_table_names()
        assert known, file.name


def test_what_a_book_says_it_lacks_is_in_another_and_not_in_it() -> None:
    """A slip in a name that is lacking would be nothing; a name that is there and lacking says both."""
    for edition in edition_details():
        book = load_rulebook(edition.name)
        assert edition.lacks <= {*all_table_names(), *all_value_names()}
        assert not edition.lacks & {*book.tables, *book.values}


@pytest.mark.parametrize("name", all_table_names())
def test_every_row_is_reachable_in_every_edition(name: str) -> None:
    for edition in read_table(name).tables:
        table = load_rulebook(edition).table(name)
        assert table.name == name
        assert table.rows
        for row in table.rows:
            assert table.find(*row.key) is row
            assert set(row.cells) == {column.name for column in read_table(name).columns}


@pytest.mark.parametrize("name", all_value_names())
def test_every_value_is_reachable_where_it_says_so(name: str) -> None:
    held = value_by_edition(name)
    assert held
    for edition in editions():
        assert load_rulebook(edition).find_value(name) is held.get(edition)


def test_values_written_are_values_found() -> None:
    """The loader finds blocks by their text; a full parse of every file finds the same ones."""
    written = []
    for file in tables_folder().glob("values-*.toml"):
        written += [entry["name"] for entry in tomllib.loads(file.read_text("utf-8"))["value"]]
    assert sorted(set(written)) == list(all_value_names())


def test_published_names_what_was_read_and_derived_its_formula() -> None:
    for where, source in all_sources():
        if source.status in {Status.PUBLISHED, Status.DERIVED}:
            assert len(source.checked) > 8, where


#: Words that give hearsay away, and kinds of source that are none.
HEARSAY = (
    "forum",
    "quiz",
    "flashcard",
    "transcription",
    "quoted",
    "glossar",
    "was not read",
    "were not read",
    "not read in",
)
NO_SOURCE = ("calculator", "software", "data sheet", "catalog", "product", "selection tool", "exam-", "brochure")


def test_published_says_whether_the_text_itself_was_read() -> None:
    read = Counter(source.read for _, source in all_sources() if source.status is Status.PUBLISHED)
    assert set(read) == set(Reading)
    assert read[Reading.FIRST_HAND] > read[Reading.SECOND_HAND]


def test_what_somebody_else_says_is_second_hand() -> None:
    for where, source in all_sources():
        if any(word in source.checked.casefold() for word in HEARSAY):
            assert source.read is Reading.SECOND_HAND, f"{where}: {source.checked}"


def test_no_maker_of_calculators_or_products_is_a_source() -> None:
    for where, source in all_sources():
        for word in NO_SOURCE:
            assert word not in source.checked.casefold(), f"{where}: {source.checked}"


def test_every_source_says_document_edition_and_place() -> None:
    for where, source in all_sources():
        assert source.document, where
        if source.status is not Status.COMMON_PRACTICE:
            assert source.place, where
        if source.document == "NFPA 70":
            assert re.fullmatch(r"20\d\d", source.edition), where


def test_no_file_of_tables_promises_anything() -> None:
    for file in tables_folder().glob("*.toml"):
        text = file.read_text("utf-8").casefold()
        for word in ("code compliant", "is safe", "legally"):
            assert word not in text, f"{file.name}: {word}"


def test_tinned_copper_is_not_shipped() -> None:
    columns = {column.name for column in read_table("conductors").columns}
    assert columns == {
        "size",
        "area",
        "strands",
        "copper_solid",
        "copper_stranded",
        "aluminum_solid",
        "aluminum_stranded",
    }


def test_14_awg_copper_clad_aluminum_has_no_limit_of_its_own() -> None:
    for edition in editions("nec"):
        row = load_rulebook(edition).table("small-conductor-overcurrent").find("14 AWG")
        assert row is not None
        assert row.number("aluminum") is None


def test_sizes_are_one_vocabulary() -> None:
    words = vocabulary()
    sizes = set(words["size"])
    assert {"14 AWG", "1/0 AWG", "250 kcmil", "2.5 mm^2"} <= sizes
    for name in (
        "ampacity",
        "conductor-reactance",
        "conductor-volume",
        "small-conductor-overcurrent",
        "metric-conductors",
    ):
        assert {row.key[0] for row in load_rulebook("nec-2023").table(name).rows} <= sizes, name
    for row in load_rulebook("nec-2023").table("metric-equivalents").rows:
        assert row.text("awg") in sizes


def test_the_vocabulary_covers_the_keys_that_name_rows() -> None:
    words = vocabulary()
    assert words["job.rulebook"] == editions()
    assert "4 x 1-1/2 octagon" in words["box.trade_size"]
    assert {"NM-B", "NM", "UF-B", "AC", "MC", "THHN in raceway", "class 2 cable"} <= set(words["cable.type"])
    for allowed in words.values():
        assert len(set(allowed)) == len(allowed)


def test_asking_for_what_is_not_there() -> None:
    book = load_rulebook("nec-2017")
    assert "no-such-table" not in book.tables
    assert book.find_value("no-such-value") is None
    with pytest.raises(TableError, match="no table 'no-such-table'"):
        book.table("no-such-table")
    with pytest.raises(TableError, match="no value 'no-such-value'"):
        book.value("no-such-value")
    with pytest.raises(KeyError):
        load_rulebook("nec-1812")
    with pytest.raises(KeyError):
        read_table("no-such-table")


def test_a_rulebook_is_made_once() -> None:
    assert load_rulebook("nec-2023") is load_rulebook("nec-2023")
    assert load_rulebook("nec-2023").table("ampacity") is load_rulebook("nec-2023").table("ampacity")
