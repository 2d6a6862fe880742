"""A book that lacks what a check asks for, as another country's may: what it says it lacks is left out and told."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from circuitcheck.advice.advised import advised
from circuitcheck.advice.box_words import BoxWords, contents_of
from circuitcheck.advice.one_box import one_box
from circuitcheck.advice.room_left import load_left, room_left_at
from circuitcheck.api.json_report import report_json
from circuitcheck.case import MORE, Answer, CaseRule, Family, said
from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_circuit, read_file
from circuitcheck.errors import CommandError, NotInBookError
from circuitcheck.findings import Outcome, Verdict
from circuitcheck.refs import Ref
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.loading import table_file_from
from circuitcheck.tables.rulebook import Rulebook, load_rulebook, vocabulary
from tests.rules import build

EXAMPLE = Path(__file__).parents[2] / "examples" / "bedroom.circuit.toml"


def without(*names: str, says_so: bool) -> Rulebook:
    """The book of 2017 under another name, without these tables and values."""
    full = load_rulebook("nec-2017")
    tables = {name: table for name, table in full.tables.items() if name not in names}
    values = {name: value for name, value in full.values.items() if name not in names}
    return Rulebook("hill-1", "Hill rules, 1st edition", tables, values, frozenset(names) if says_so else frozenset())


@pytest.fixture(scope="module")
def circuit():
    return read_file(EXAMPLE, vocabulary())


def test_what_the_book_says_it_lacks_is_not_judged_and_told(circuit) -> None:
    full = check(circuit, load_rulebook("nec-2017"))
    report = check(circuit, without("conductor-volume", "box-volumes", says_so=True))
    assert report.not_judged == ("box-fill",)
    assert report.faults == ()
    assert report.verdict is full.verdict is Verdict.FITS
    told = [caution for caution in report.cautions if "box fill" in caution]
    assert told == ["Not checked, because Hill rules, 1st edition has no number for it: box fill."]
    assert {finding.check for finding in full.findings} - {finding.check for finding in report.findings} == {"box-fill"}
    assert json.loads("".join(report_json(report)))["not_judged"] == ["box-fill"]
    assert full.not_judged == ()


def test_what_nobody_typed_in_is_a_fault_of_that_check_and_never_fits(circuit) -> None:
    report = check(circuit, without("free-conductor-length", says_so=False))
    (fault,) = report.faults
    assert fault.check == "free-conductor"
    assert fault.says == (
        "hill-1 has no value 'free-conductor-length': type it in, or name it in its lacks (tables/rulebooks.toml)"
    )
    assert report.verdict is Verdict.UNDETERMINED
    assert report.not_judged == ()


def test_what_a_wire_and_its_breaker_carry_no_book_may_be_without(circuit) -> None:
    report = check(circuit, without("conductor-count-adjustment", says_so=True))
    assert "ampacity" in {fault.check for fault in report.faults}
    assert report.verdict is Verdict.UNDETERMINED


@pytest.mark.parametrize(
    ("name", "fault"), [("continuous-load-factor", "load-share"), ("standard-overcurrent-ratings", "ampacity")]
)
def test_no_room_is_told_where_a_check_had_a_fault(circuit, name, fault) -> None:
    """The check that did not answer may be the one that turns."""
    parts = [
        Ref("supply"),
        *(part.ref for section in (circuit.loads, circuit.cables, circuit.boxes) for part in section),
    ]

    def rooms(book):
        report = check(circuit, book)
        at_parts = [room for part in parts for room in room_left_at(part, report, circuit, book)]
        return report, len(advised(report, circuit, book).room_left), len(at_parts), load_left(report, circuit, book)

    assert all(rooms(load_rulebook("nec-2017"))[1:])
    report, *told = rooms(without(name, says_so=True))
    assert fault in {each.check for each in report.faults}
    assert told == [0, 0, None]


def one_more_than_judged(load, case, book):
    """As a rule that looks up a value for more than three lights."""
    if load.quantity > 3:
        book.value("many-lights")
    return Answer(part=load, outcome=Outcome.PASS, says=said("A few."))


@pytest.mark.parametrize("says_so", [True, False], ids=["not judged", "a fault"])
def test_no_room_beyond_what_is_judged(monkeypatch, says_so) -> None:
    """One light; with three more the check is no longer judged, so that two more are all that is known to pass."""
    trial = CaseRule(
        name="trial", title="t", family=Family.SITE, rank=1, subjects=lambda case: case.loads,
        answer=one_more_than_judged, worse={"load.quantity": MORE},
    )  # fmt: skip
    rules = (*(rule for rule in ALL_RULES if rule.name in ("load-share", "ampacity")), trial)
    for module in ("asking_again", "room_left"):
        monkeypatch.setattr(f"circuitcheck.advice.{module}.ALL_RULES", rules)
    lamp = build.load("lamp", "b", power_w=1, origin="added")
    few = build.circuit(build.box("b"), build.cable("feed", "panel", "b"), lamp)
    book = without("many-lights", says_so=says_so)
    report = check(few, book, rules)
    assert (report.faults, report.not_judged) == ((), ())
    (room,) = room_left_at(Ref("load", "lamp"), report, few, book)
    assert (room.kind, room.amount, room.check) == ("more of this", 2.0, "trial")
    # The same where the check does not judge another light anyway.
    both = replace(few, loads=(lamp, replace(lamp, id="others", quantity=9)))
    report = check(both, without("many-lights", says_so=True), rules)
    assert report.not_judged == ("trial",)
    (room,) = room_left_at(Ref("load", "lamp"), report, both, without("many-lights", says_so=True))
    assert (room.kind, room.check) == ("more of this", "trial")


def test_no_room_for_cables_alongside_by_a_book_that_cannot_tell_what_a_bundle_is() -> None:
    """From what length on cables count as bundled is only asked once one lies alongside; it is in no sense unneeded."""
    lamp = build.load("lamp", "b", power_w=60, origin="added", weight_kg=0.01)
    open_air = {"length_m": 1.0, "bundled_with": 0, "in_insulation": False}
    alone = build.circuit(build.box("b"), build.cable("feed", "panel", "b", **open_air), lamp)

    def room(*lacks):
        book = without(*lacks, says_so=True)
        report = check(alone, book)
        assert report.faults == ()
        rooms = room_left_at(Ref("cable", "feed"), report, alone, book)
        return next((each.amount, each.check) for each in rooms if each.kind == "cables alongside")

    # 14 AWG of 90 degC: 25 A (Table 310.15(B)(16)). Others of unknown make have at most 3 conductors: 9 of them are 29
    # with its own 2, x 0.45 = 11.25 A (310.15(B)(3)(a)), on 15 A as the size up; 10 are 32, x 0.40 = 10 A, and 10 A do.
    assert (room(), room("bundling-length")) == ((9.0, "ampacity"), (0.0, "ampacity"))


def test_a_box_is_not_counted_by_a_book_that_has_no_numbers_for_it() -> None:
    contents = contents_of(BoxWords(volume="18 in^3", cable=["14/2"]))
    with pytest.raises(CommandError, match=r"^Hill rules, 1st edition has no numbers to count a box by$"):
        one_box(contents, without("conductor-volume", says_so=True))


METRIC = """
format = 1
job = { title = "Metric", rulebook = "nec-2017" }
supply = { voltage = "230 V", breaker = "BREAKER", device = "breaker" }
[[cable]]
id = "feed"
from = "panel"
to = "ceiling"
origin = "existing"
size = "1.5 mm^2"
material = "copper"
conductors = 2
[[box]]
id = "ceiling"
origin = "existing"
"""


def table(name: str, columns: dict[str, str], rows: str):
    """An invented table. ``columns``: the unit of each, "text" for words; the first is the key."""
    heads = "\n".join(
        f'{column} = {{ kind = "text" }}' if unit == "text" else f'{column} = {{ unit = "{unit}" }}'
        for column, unit in columns.items()
    )
    text = f"""
name = "{name}"
title = "Invented"
key = ["{next(iter(columns))}"]
[columns]
{heads}
[[version]]
editions = ["nec-2017", "nec-2020", "nec-2023"]
document = "Hill rules"
place = "Table 1"
status = "common practice"
rows = {rows}
"""
    return table_file_from(text, name).tables["nec-2017"]


def test_what_an_open_entry_can_be_no_book_may_be_without() -> None:
    held = read_circuit(METRIC.replace("BREAKER", "16 A"), "metric", vocabulary())
    with pytest.raises(NotInBookError, match="hill-1 has no value 'terminal-temperature-default'"):
        check(held, without("terminal-temperature-default", says_so=True))


@pytest.mark.parametrize(
    ("breaker", "outcome"),
    [
        # The invented tables: 1.5 mm^2 carries 16 A, and 16 A is a rating that is made.
        ("16 A", Outcome.PASS),
        ("20 A", Outcome.FAIL),
    ],
)
def test_a_metric_book_has_rows_of_its_own_for_its_sizes(breaker: str, outcome: Outcome) -> None:
    """Each size stands for itself; 1.5 mm^2 is 2,960 circular mils, 1 mm^2 1,974 (1 mm^2 = 1973.5 cmil)."""
    ratings = {f"{metal}_{column}": "A" for metal in ("copper", "aluminum") for column in (60, 75, 90)}
    ohms = {f"{metal}_{kind}": "ohm/km" for metal in ("copper", "aluminum") for kind in ("solid", "stranded")}
    own = [
        table(
            "metric-equivalents",
            {"size": "text", "awg": "text"},
            '[["1 mm^2", "1 mm^2"], ["1.5 mm^2", "1.5 mm^2"]]',
        ),
        table(
            "ampacity",
            {"size": "text", **ratings},
            '[["1 mm^2", 11, 13, 15, "", "", ""], ["1.5 mm^2", 16, 17, 19, "", "", ""]]',
        ),
        table(
            "conductors",
            {"size": "text", "area": "cmil", "strands": "", **ohms},
            '[["1 mm^2", 1974, 7, 22, 22, "", ""], ["1.5 mm^2", 2960, 7, 14.7, 14.7, "", ""]]',
        ),
        table(
            "branch-circuit-conductors",
            {"rating": "A", "copper": "text", "copper_tap": "text", "lampholders": "text", "note": "text"},
            '[[10, "1 mm^2", "1 mm^2", "any", ""], [16, "1.5 mm^2", "1.5 mm^2", "any", ""]]',
        ),
        table("standard-overcurrent-ratings", {"rating": "A"}, "[[10], [16], [20]]"),
    ]
    full = load_rulebook("nec-2017")
    tables = {**full.tables, **{each.name: each for each in own}}
    book = Rulebook("hill-1", "Hill rules, 1st edition", tables, full.values)
    held = read_circuit(METRIC.replace("BREAKER", breaker), "metric", vocabulary())
    (finding,) = [finding for finding in check(held, book).findings if finding.check == "breaker-vs-wire"]
    assert finding.outcome is outcome
    assert finding.limit == pytest.approx(16.0)
