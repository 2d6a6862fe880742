"""A plan that is not ready tells what must change or be found out, and holds no step that an answer could undo."""

import re
from functools import cache

import pytest

from circuitcheck.advice.readiness import State, readiness_of, settled_cables
from circuitcheck.advice.wiring import wiring_of
from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.findings import Outcome
from circuitcheck.outcomes import check_words
from circuitcheck.sheets import plan_outline
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.note.build import noted
from tests.oracle.circuits import random_circuit
from tests.oracle.reading import written
from tests.rules.build import CUBIC_INCH, box, cable, circuit, fixture_wires, load, site, supply
from tests.sheets.build import MADE, example, flat, plan

SEEDS = range(120)
FEW_OR_ALL = pytest.mark.parametrize(
    "seeds", [SEEDS[:40], pytest.param(SEEDS, marks=pytest.mark.long)], ids=["few", "all"]
)

#: Sections that lead to joining, closing or power.
WORK = ("Shut off, and prove it dead", "Splices and terminations", "Checks after")
#: Sections that lead to cutting, buying or any work at all.
ALL_WORK = (*WORK, "Order of work", "Cut list", "Materials", "Splices behind the drivers")
#: Words of steps that join, close or bring the power.
STEPS = re.compile(
    r"\b(make up the grounds|bring the new cable in|switch on|close every box|mount the switches|join grounds)\b", re.I
)


def titles(outline):
    return [section.title for section in outline.sections]


def steps(outline):
    """The steps of the order of work, headings left out."""
    order = next((section for section in outline.sections if section.title == "Order of work"), None)
    return [row.cells[1].text for row in order.blocks[0].rows if len(row.cells) > 1] if order else []


@cache
def random_built(seed):
    return read_circuit(written(random_circuit(seed)), f"seed {seed}", vocabulary())


@cache
def random_report(seed):
    built = random_built(seed)
    return check(built, load_rulebook(built.job.rulebook))


def calm(*parts, **of_site):
    """A circuit in which everything that the rules ask is answered, but for what ``parts`` leave open."""
    return circuit(
        supply(protection="arc-fault", shared_neutral=False, poles=1, serves="general lighting", loads_complete=True),
        site(room="hallway", wired=1995, signs=(), work_by="owner", owner_occupied=True, dwelling_units=1, **of_site),
        *parts,
    )


def test_a_failing_plan_says_what_must_change_and_nothing_to_do():
    outline = plan(example("hallway"))
    assert outline.banner == "Not ready: do not work by this yet"
    assert "What must change first" in titles(outline)
    assert not set(titles(outline)) & set(ALL_WORK)
    page = flat(outline)
    assert "NOT READY: do not work by this plan yet. 2 problems." in page
    assert "No order of work, list of joints, cut list or list of materials stands here" in page
    assert "or a ring marked with" in page  # what the change takes, in shop terms


def test_an_undetermined_plan_settles_first():
    outline = plan(example("den"))
    assert outline.banner == "Not ready: do not work by this yet"
    assert not set(titles(outline)) & set(WORK)
    page = flat(outline)
    assert "Settle first: until then nothing is cut or run" in page
    assert "The order ends here." in page
    assert not STEPS.search(" ".join(steps(outline)))
    assert "this would settle it: cable “feed”: what it carries" in page
    assert not re.search(r"\b(cable|box|load|control)\.\w", page)  # no keys of the file


def test_a_plan_with_nothing_open_is_whole():
    outline = plan(example("bedroom"))
    assert {*WORK, "Order of work", "Cut list", "Materials"} <= set(titles(outline))
    assert STEPS.search(" ".join(steps(outline)))
    assert "On paper every check passes. Still needed:" in flat(outline)


@FEW_OR_ALL
def test_random_plans(seeds):
    """Fails: no work at all. Something unknown: no joining, and only cable that no open answer speaks about."""
    seen = set()
    for seed in seeds:
        built, report = random_built(seed), random_report(seed)
        book = load_rulebook(built.job.rulebook)
        ready = readiness_of(report, wiring_of(built))
        outline = plan_outline(report, built, book, digest="ab" * 32, tool="circuitcheck 0.0", made=MADE)
        seen.add(ready.state)
        if ready.state is State.MUST_CHANGE:
            assert not set(titles(outline)) & set(ALL_WORK), seed
        if ready.state is State.UNKNOWN:
            assert not set(titles(outline)) & set(WORK), seed
            assert not STEPS.search(" ".join(steps(outline))), seed
            touched = {one.subject for one in report.findings if one.outcome is Outcome.UNDETERMINED}
            settled = settled_cables(ready, built)
            assert not touched & set(settled), seed
            assert not settled or "circuit" not in touched, seed
        fails = any(one.outcome is Outcome.FAIL for one in report.findings)
        assert (ready.state in (State.MUST_CHANGE, State.STOP)) == fails, seed
    assert State.MUST_CHANGE in seen


@FEW_OR_ALL
def test_only_what_must_change_is_left_of_a_random_failing_plan(seeds):
    """Half of the random circuits fail somewhere; each fail stands in the table of what must change."""
    for seed in seeds[::4]:
        built, report = random_built(seed), random_report(seed)
        fails = {check_words(one.check) for one in report.findings if one.outcome is Outcome.FAIL}
        if not fails or report.stop:
            continue
        section = next(one for one in plan(built).sections if one.title == "What must change first")
        told = {row.cells[1].text.partition(",")[0] for row in section.blocks[0].rows}
        assert told == fails, seed


def two_lights(**changed):
    """By hand: nothing is open but what ``changed`` leaves open about the far box."""
    far = {
        "material": "nonmetallic",
        "origin": "added",
        "volume_m3": 20 * CUBIC_INCH,
        "fixture_wires": (fixture_wires("18 AWG", 2),),
    } | changed
    near = {**far, "volume_m3": 20 * CUBIC_INCH}
    return calm(
        box("start", material="nonmetallic", volume_m3=30 * CUBIC_INCH),
        cable("feed", "panel", "start", origin="existing", carries="feed"),
        box("near", **near),
        cable("to near", "start", "near", carries="feed"),
        box("far", **far),
        cable("to far", "start", "far", carries="feed"),
        load("near light", "near", origin="added", power_w=10),
        load("far light", "far", origin="added", power_w=10),
        permit="granted",
    )


def readied(built, keep):
    """The plan's state with only those findings left open that ``keep`` accepts."""
    report = check(built, load_rulebook("nec-2023"))
    findings = tuple(one for one in report.findings if one.outcome in (Outcome.PASS, Outcome.CAUTION) or keep(one))
    return readiness_of(type(report)(**{**_fields(report), "findings": findings}), wiring_of(built))


def _fields(report):
    return {name: getattr(report, name) for name in type(report).__dataclass_fields__}


def test_cable_at_a_box_that_is_open_waits_and_other_cable_does_not():
    built = two_lights(volume_m3=None)
    ready = readied(built, lambda one: one.check == "box-fill" and one.subject == "far")
    assert [one.subject for one in ready.unknown] == ["far"]
    assert settled_cables(ready, built) == ("to near",)


def test_cable_on_the_way_to_an_open_load_waits():
    built = two_lights(volume_m3=None)
    ready = readied(built, lambda one: False)
    opened = type(ready)(**{**_fields(ready), "unknown": (_about("near light"),), "state": State.UNKNOWN})
    assert settled_cables(opened, built) == ("to far",)


def test_an_answer_that_can_end_the_job_leaves_no_cable():
    built = two_lights()
    for subject in ("circuit", "start", "feed"):
        ready = readied(built, lambda one: False)
        opened = type(ready)(**{**_fields(ready), "unknown": (_about(subject),), "state": State.UNKNOWN})
        assert settled_cables(opened, built) == (), subject


def _about(subject):
    from circuitcheck.findings import Finding

    return Finding(check="any", subject=subject, outcome=Outcome.UNDETERMINED, says="open")


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("hallway", "NOT READY: buy, cut and run nothing until what fails is changed"),
        ("den", "NOT READY: cut and run nothing until what is unknown, and the permit, are settled"),
    ],
)
def test_the_note_says_that_it_is_not_ready(name, words):
    assert words in " ".join(noted(example(name)).text(".md").replace("\\", "").split())
    assert "NOT READY" not in noted(example("bedroom")).text(".md")
