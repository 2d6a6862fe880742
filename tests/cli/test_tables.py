"""``circuitcheck tables``: every rulebook, table and value with its source; one table as printed."""

from circuitcheck.tables.rulebook import editions, load_rulebook, newest_edition


def test_the_list_names_everything_with_its_status(run) -> None:
    ran = run("tables")
    assert (ran.status, ran.err) == (0, "")
    book = load_rulebook(newest_edition())
    for edition in editions():
        assert edition in ran.out
    for name in (*book.tables, *book.values):
        assert f"  {name}" in ran.out
    for status in ("(published)", "(derived)", "(from memory)", "in no code"):
        assert status in ran.out


def test_one_table(run) -> None:
    """14 AWG copper: 15, 20, 25 A (NFPA 70, Table 310.16)."""
    ran = run("tables", "ampacity", "--rulebook", "nec-2020")
    assert ran.status == 0
    (row,) = [line.split() for line in ran.out.splitlines() if line.startswith("14 AWG")]
    assert row[2:5] == ["15", "20", "25"]
    assert "Table 310.16" in ran.out
    assert "Table 310.15(B)(16)" in run("tables", "ampacity", "--rulebook", "nec-2017").out


def test_units_come_back_as_printed(run) -> None:
    """4 x 1-1/2 octagon: 15.5 in^3; 14 AWG: 2.00 in^3; correction up to 35 degC: 0.91, 0.94, 0.96."""
    out = run("tables", "box-volumes").out
    (row,) = [line for line in out.splitlines() if line.startswith("4 x 1-1/2 octagon")]
    assert "15.5" in row
    out = run("tables", "ambient-correction").out
    (row,) = [line.split() for line in out.splitlines() if line.split()[:2] == ["30", "35"]]
    assert row[2:5] == ["0.91", "0.94", "0.96"]


def test_one_value(run) -> None:
    """125 % of what is on for three hours or more (210.19(A), 210.20(A))."""
    out = run("tables", "continuous-load-factor").out
    assert "= 1.25" in out
    assert "210.2" in out


def test_a_wrong_name_is_answered_with_the_nearest(run) -> None:
    assert 'did you mean "ampacity"?' in run("tables", "ampacitty").err
