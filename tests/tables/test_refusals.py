"""Every way in which a table file can be wrong is refused, with file and row named."""

import pytest

from circuitcheck.errors import TableError
from circuitcheck.tables.loading import table_file_from
from circuitcheck.tables.values import block_index, blocks_in, values_from

GOOD = """
name = "trial"
title = "A table for trying the loader"
key = ["size"]

[columns]
size = { kind = "text" }
current = { unit = "A", least = 5, greatest = 50, direction = "rises" }
length = { unit = "ft" }
allowed = { kind = "yes/no" }
rooms = { kind = "list" }

[[version]]
editions = ["nec-2017", "nec-2020"]
document = "NFPA 70"
place = "Table 1"
status = "published"
checked = "a handbook, page 3"
read = "second-hand"
rows = [
  ["14 AWG", 15, 10, true, ["attic", "hall"]],
  ["12 AWG", 20, "", false, []],
]

[[version]]
editions = ["nec-2023"]
document = "NFPA 70"
place = "Table 1(1)"
status = "from memory"
rows = [
  ["14 AWG", 15, 10, true, []],
]
"""


def test_a_good_file_is_read_in_si_with_a_source_for_every_row() -> None:
    file = table_file_from(GOOD, "trial")
    row = file.tables["nec-2017"].find("14 AWG")
    assert row is not None
    assert row.number("current") == 15.0
    assert row.number("length") == pytest.approx(3.048)
    assert row.yes("allowed") is True
    assert row.items("rooms") == ("attic", "hall")
    assert (row.source.document, row.source.edition, row.source.place) == ("NFPA 70", "2017", "Table 1")
    assert (str(row.source.status), row.source.checked) == ("published", "a handbook, page 3")
    thick = file.tables["nec-2020"].find("12 AWG")
    assert thick is not None
    assert thick.number("length") is None
    assert thick.source.edition == "2020"
    assert file.tables["nec-2023"].rows[0].source.place == "Table 1(1)"
    assert file.versions == (("nec-2017", "nec-2020"), ("nec-2023",))


MEMORY = 'status = "from memory"\n'


WRONG = [
    ("a missing edition", ('editions = ["nec-2017", "nec-2020"]', 'editions = ["nec-2017"]'), "nec-2020 is missing"),
    (
        "a doubled edition",
        ('editions = ["nec-2023"]', 'editions = ["nec-2020", "nec-2023"]'),
        "nec-2020 is served twice",
    ),
    (
        "an unknown edition",
        ('editions = ["nec-2023"]', 'editions = ["nec-2023", "nec-1812"]'),
        "unknown edition 'nec-1812'",
    ),
    ("no editions", ('editions = ["nec-2023"]', "editions = []"), "nec-2023 is missing"),
    ("a doubled key", ('["12 AWG", 20', '["14 AWG", 20'), "row 14 AWG: stands twice"),
    ("an unknown key column", ('key = ["size"]', 'key = ["gauge"]'), "key ['gauge'] names no columns"),
    ("an unknown key in the header", ("title =", 'colour = "red"\ntitle ='), "unknown key 'colour'"),
    ("an unknown key in a version", ('place = "Table 1"', 'page = 3\nplace = "Table 1"'), "unknown key 'page'"),
    ("an unknown key in a column", ("least = 5", "lowest = 5"), "column current: unknown key 'lowest'"),
    ("an unknown kind", ('allowed = { kind = "yes/no" }', 'allowed = { kind = "maybe" }'), "unknown kind 'maybe'"),
    ("an unknown unit", ('length = { unit = "ft" }', 'length = { unit = "cubit" }'), "unknown unit 'cubit'"),
    ("no unit", ('length = { unit = "ft" }', "length = { least = 1 }"), "column length: no unit"),
    ("an unknown direction", ('direction = "rises"', 'direction = "up"'), "unknown direction 'up'"),
    (
        "a range on a text",
        ('size = { kind = "text" }', 'size = { kind = "text", least = 1 }'),
        "only numbers have a unit",
    ),
    (
        "a cell too few",
        ('["12 AWG", 20, "", false, []]', '["12 AWG", 20, "", false]'),
        "row 12 AWG: 4 cells, 5 columns",
    ),
    ("a cell too many", ('["12 AWG", 20, "", false, []]', '["12 AWG", 20, "", false, [], 1]'), "row 12 AWG: 6 cells"),
    (
        "a text for a number",
        ('["12 AWG", 20', '["12 AWG", "20 A"'),
        "row 12 AWG: column current: '20 A' is not a number",
    ),
    ("a yes/no for a number", ('["12 AWG", 20', '["12 AWG", true'), "row 12 AWG: column current: True is not a number"),
    ("a number for a text", ('["12 AWG", 20', "[12, 20"), "row 12: column size: 12 is not text"),
    ("a text for a yes/no", ("false, []", '"no", []'), "column allowed: 'no' is not yes/no"),
    ("a number in a list", ('["attic", "hall"]', "[1]"), "column rooms: [1] is not list"),
    ("a value over the range", ('["12 AWG", 20', '["12 AWG", 65'), "row 12 AWG: column current: 65 is over 50 A"),
    ("a value under the range", ('["14 AWG", 15, 10, true, ["', '["14 AWG", 4, 10, true, ["'), "4 is under 5 A"),
    ("not a number", ('["12 AWG", 20', '["12 AWG", nan'), "row 12 AWG: column current: nan is no number"),
    ("no end", ('["14 AWG", 15, 10', '["14 AWG", 15, inf'), "row 14 AWG: column length: inf is no number"),
    ("a broken direction", ('["12 AWG", 20', '["12 AWG", 15'), "row 12 AWG: column current should be one that rises"),
    ("no document", ('document = "NFPA 70"\nplace = "Table 1"\n', 'place = "Table 1"\n'), "document is missing"),
    ("no place", ('place = "Table 1"\n', ""), "place is missing"),
    ("no place for one edition", ('place = "Table 1"\n', 'place = { nec-2017 = "T" }\n'), "no entry for nec-2020"),
    (
        "a place for an unknown edition",
        ('place = "Table 1"\n', 'place = { nec-1812 = "T" }\n'),
        "unknown edition 'nec-1812'",
    ),
    ("no status", ('status = "from memory"\n', ""), "status '' is not one of"),
    ("an unknown status", ('status = "from memory"', 'status = "sure"'), "status 'sure' is not one of"),
    ("published, nothing read", ('checked = "a handbook, page 3"', 'checked = " "'), "published, but nothing"),
    ("published, not how read", ('read = "second-hand"\n', ""), "published, but not whether it was read"),
    ("an unknown reading", ('read = "second-hand"', 'read = "hearsay"'), "read 'hearsay' is not one of"),
    ("nothing that was read", (MEMORY, MEMORY + 'read = "first-hand"\n'), "but nothing is named that was read"),
    ("derived without formula", ('status = "from memory"', 'status = "derived"'), "derived, but no formula"),
    ("row status of no row", (MEMORY, MEMORY + 'row_status = { "9 AWG" = {} }\n'), "names no row: '9 AWG'"),
    (
        "row published, nothing read",
        (MEMORY, MEMORY + 'row_status = { "14 AWG" = { status = "published" } }\n'),
        "row 14 AWG: published, but nothing",
    ),
    (
        "unknown key in a row status",
        (MEMORY, MEMORY + 'row_status = { "14 AWG" = { sure = 1 } }\n'),
        "row 14 AWG: unknown key 'sure'",
    ),
    ("another name", ('name = "trial"', 'name = "other"'), "name is 'other', not 'trial'"),
    ("no title", ('title = "A table for trying the loader"', ""), "no title"),
    ("no rows", ('rows = [\n  ["14 AWG", 15, 10, true, []],\n]', "rows = []"), "a version without rows"),
    ("no TOML", ("[columns]", "[columns"), "trial.toml: "),
]


@pytest.mark.parametrize(("change", "says"), [case[1:] for case in WRONG], ids=[case[0] for case in WRONG])
def test_a_wrong_table_is_refused(change: tuple[str, str], says: str) -> None:
    before, after = change
    assert before in GOOD
    with pytest.raises(TableError) as refused:
        table_file_from(GOOD.replace(before, after, 1), "trial")
    assert str(refused.value).startswith("trial.toml")
    assert says in str(refused.value)


BANDS = """
name = "trial"
title = "Bands"
key = ["up_to"]
[columns]
above = { unit = "degC" }
up_to = { unit = "degC" }
factor = { unit = "" }
[[version]]
editions = ["nec-2017", "nec-2020", "nec-2023"]
document = "NFPA 70"
place = "Table 2"
status = "from memory"
rows = [["", 30, 1.0], [30, 40, 0.8], [40, "", 0.5]]
"""


def test_bands_are_looked_up_and_never_interpolated() -> None:
    table = table_file_from(BANDS, "trial").tables["nec-2023"]
    expected = {-20.0: 1.0, 30.0: 1.0, 30.000000000001: 1.0, 30.5: 0.8, 40.0: 0.8, 40.1: 0.5, 900.0: 0.5}
    assert {value: row.number("factor") for value in expected if (row := table.band(value))} == expected


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [
        ("[30, 40, 0.8]", "[35, 40, 0.8]", "the band after None to 30.0 starts at 35.0"),
        ("[30, 40, 0.8]", "[30, 25, 0.8]", "starts at 40.0"),
        ('["", 30, 1.0], [30, 40, 0.8], [40, "", 0.5]', "[30, 20, 1.0]", "the band 30.0 to 20.0 holds nothing"),
    ],
)
def test_bands_that_do_not_adjoin_are_refused(before: str, after: str, says: str) -> None:
    with pytest.raises(TableError, match=says):
        table_file_from(BANDS.replace(before, after), "trial")


def test_a_band_outside_all_is_none() -> None:
    closed = BANDS.replace('["", 30, 1.0], ', "").replace('[40, "", 0.5]', "[40, 50, 0.5]")
    table = table_file_from(closed, "trial").tables["nec-2023"]
    assert table.band(30.0) is None
    assert table.band(50.1) is None


def test_the_first_row_at_least_as_large_is_the_least_such() -> None:
    table = table_file_from(GOOD, "trial").tables["nec-2017"]
    found = {
        ask: row.key[0] if (row := table.first_at_least("current", ask)) else None for ask in (1, 15, 15.1, 20, 20.1)
    }
    assert found == {1: "14 AWG", 15: "14 AWG", 15.1: "12 AWG", 20: "12 AWG", 20.1: None}


@pytest.mark.parametrize("column", ["size", "allowed", "rooms", "breadth"])
def test_asking_a_column_for_what_it_is_not_is_a_fault(column: str) -> None:
    row = table_file_from(GOOD, "trial").tables["nec-2017"].rows[0]
    with pytest.raises(TableError):
        row.number(column)


def test_asking_a_number_for_text_is_a_fault() -> None:
    row = table_file_from(GOOD, "trial").tables["nec-2017"].rows[0]
    for question in (row.text, row.yes, row.items):
        with pytest.raises(TableError):
            question("current")


BLOCK = """
name = "longest-run"
value = 10
unit = "ft"
editions = ["nec-2017", "nec-2020"]
document = "NFPA 70"
place = "300.1"
status = "derived"
formula = "ten paces"
"""


def test_a_good_value_is_read_in_si() -> None:
    value = values_from([BLOCK], "longest-run", "values-trial.toml")["nec-2020"]
    assert value.number == pytest.approx(3.048)
    assert (value.unit, value.source.checked, value.source.edition) == ("ft", "ten paces", "2020")


def test_values_that_are_no_numbers() -> None:
    def read(text: str) -> object:
        block = BLOCK.replace("value = 10", f"value = {text}")
        return values_from([block], "longest-run", "f")["nec-2017"]

    assert read("true").yes is True  # type: ignore[attr-defined]
    assert read("false").yes is False  # type: ignore[attr-defined]
    assert read('"14 AWG"').text == "14 AWG"  # type: ignore[attr-defined]
    assert read('["a", "b"]').items == ("a", "b")  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [
        ('editions = ["nec-2017", "nec-2020"]', "editions = []", "no editions"),
        ('"nec-2017", "nec-2020"', '"nec-2017", "nec-2017"', "served twice"),
        ('"nec-2017", "nec-2020"', '"nec-1812"', "unknown edition"),
        ('"nec-2017", "nec-2020"', '"nec-2017", "nec-2023"', "in the middle is missing"),
        ('unit = "ft"', "", "no unit"),
        ('unit = "ft"', 'unit = "cubit"', "unknown unit"),
        ("value = 10\n", "", "value is missing"),
        ("value = 10", "value = 10\nleast = 11", "10 is under 11 ft"),
        ("value = 10", "value = 10\ncolour = 1", "unknown key 'colour'"),
        ('place = "300.1"\n', "", "place is missing"),
        ('formula = "ten paces"', "", "derived, but no formula"),
        ('status = "derived"', 'status = "published"', "published, but nothing"),
        ("value = 10", "value = [", "value longest-run"),
    ],
)
def test_a_wrong_value_is_refused(before: str, after: str, says: str) -> None:
    assert before in BLOCK
    with pytest.raises(TableError) as refused:
        values_from([BLOCK.replace(before, after)], "longest-run", "values-trial.toml")
    assert "values-trial.toml: value longest-run" in str(refused.value)
    assert says in str(refused.value)


def test_a_value_name_is_lower_case_words_with_hyphens() -> None:
    with pytest.raises(TableError, match="lower-case words"):
        values_from([BLOCK.replace("longest-run", "Longest_Run")], "Longest_Run", "f")


def test_a_value_keeps_its_kind_and_unit_over_the_editions() -> None:
    later = BLOCK.replace('"nec-2017", "nec-2020"', '"nec-2023"').replace('unit = "ft"', 'unit = "A"')
    with pytest.raises(TableError, match="one kind and unit"):
        values_from([BLOCK, later], "longest-run", "f")


def test_a_value_may_not_stand_in_two_files(tmp_path) -> None:
    (tmp_path / "values-a.toml").write_text("[[value]]" + BLOCK)
    (tmp_path / "values-b.toml").write_text("[[value]]" + BLOCK)
    with pytest.raises(TableError, match=r"stands in values-a\.toml too"):
        block_index(tmp_path)


def test_a_block_without_a_name_is_refused() -> None:
    with pytest.raises(TableError, match="a value without a name"):
        list(blocks_in("[[value]]\nvalue = 1\n", "f"))


def test_strange_keys_before_the_first_value_are_refused() -> None:
    with pytest.raises(TableError, match="unknown key 'colour'"):
        list(blocks_in("colour = 1\n[[value]]" + BLOCK, "f"))
