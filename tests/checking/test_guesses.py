"""An answer that holds only while a guess does is undetermined, and every guess is listed.

The rules here are tiny ones made for the purpose, so that what is tested is the handling of guesses alone.
"""

from circuitcheck.checking import check
from circuitcheck.circuit.model import Box, Cable, Circuit, Job, Supply
from circuitcheck.findings import Finding, Outcome, Verdict, judge_at_most
from circuitcheck.quantities import How, Interval
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import load_rulebook

BOOK = load_rulebook("nec-2023")


def circuit_with(*, boxes: tuple[Box, ...] = (), cables: tuple[Cable, ...] = ()) -> Circuit:
    return Circuit(
        file="trial",
        job=Job(title="Trial", rulebook="nec-2023"),
        supply=Supply(voltage_v=Interval(120, 120), breaker_a=Interval(15, 15)),
        boxes=boxes,
        cables=cables,
    )


def clamps_rule(limit: float) -> Rule:
    """Twelve, and two more when there are clamps; unknown clamps may be there or not."""

    def count(circuit, book):
        for box in circuit.boxes:
            key = f"box.{box.id}.internal_clamps"
            low = 12 + (2 if box.internal_clamps is True else 0)
            high = 12 + (0 if box.internal_clamps is False else 2)
            outcome = judge_at_most(low, high, limit)
            yield Finding(
                check="count",
                subject=box.id,
                outcome=outcome,
                says=f"{high} of {limit}.",
                value=high,
                limit=limit,
                low=low,
                high=high,
                needs=(key,) if outcome is Outcome.UNDETERMINED else (),
                assumed_keys=(key,) if box.internal_clamps is None else (),
                to_do=("Look inside.",) if box.internal_clamps is None else (),
            )

    return Rule(name="count", title="Count", family="capacity", uses=(), check=count)


def answer(box: Box, limit: float) -> Finding:
    (finding,) = check(circuit_with(boxes=(box,)), BOOK, [clamps_rule(limit)]).findings
    return finding


def test_a_good_answer_that_hangs_on_a_guess_stays_open() -> None:
    finding = answer(Box(id="attic", internal_clamps=False, known_by={"internal_clamps": "guess"}), 13)
    assert finding.outcome is Outcome.UNDETERMINED
    assert finding.needs == ("box.attic.internal_clamps",)
    assert (finding.value, finding.low, finding.high) == (14, 12, 14)
    assert "guess" in finding.says
    assert finding.to_do == ("Look inside.",)


def test_a_bad_answer_that_hangs_on_a_guess_stays_open_too() -> None:
    finding = answer(Box(id="attic", internal_clamps=True, known_by={"internal_clamps": "guess"}), 13)
    assert finding.outcome is Outcome.UNDETERMINED
    assert (finding.low, finding.high) == (12, 14)


def test_an_answer_that_the_guess_cannot_change_stands() -> None:
    guessed = {"internal_clamps": "guess"}
    assert answer(Box(id="attic", internal_clamps=False, known_by=guessed), 14).outcome is Outcome.PASS
    assert answer(Box(id="attic", internal_clamps=False, known_by=guessed), 11).outcome is Outcome.FAIL


def test_what_was_measured_is_not_doubted() -> None:
    finding = answer(Box(id="attic", internal_clamps=False, known_by={"internal_clamps": "measured"}), 13)
    assert finding.outcome is Outcome.PASS


def test_a_guess_about_another_box_changes_nothing_here() -> None:
    boxes = (
        Box(id="sure", internal_clamps=False),
        Box(id="unsure", internal_clamps=False, known_by={"internal_clamps": "guess"}),
    )
    report = check(circuit_with(boxes=boxes), BOOK, [clamps_rule(13)])
    assert [finding.outcome for finding in report.findings] == [Outcome.PASS, Outcome.UNDETERMINED]
    assert report.findings[1].needs == ("box.unsure.internal_clamps",)
    assert report.verdict is Verdict.UNDETERMINED


def test_a_guessed_count_may_be_one_more() -> None:
    def few(circuit, book):
        count = circuit.cables[0].bundled_with
        yield Finding(
            check="few",
            subject="feed",
            outcome=Outcome.FAIL if count > 2 else Outcome.PASS,
            says=f"{count} alongside.",
            keys=("cable.feed.bundled_with",),
        )

    rule = Rule(name="few", title="Few", family="capacity", uses=(), check=few)
    cable = Cable(id="feed", from_id="panel", to_id="b", bundled_with=2, known_by={"bundled_with": "guess"})
    (finding,) = check(circuit_with(cables=(cable,)), BOOK, [rule]).findings
    assert finding.outcome is Outcome.UNDETERMINED
    assert finding.needs == ("cable.feed.bundled_with",)


def test_a_finding_that_only_appears_in_doubt_is_told() -> None:
    def only_without(circuit, book):
        if circuit.site.room is None:
            yield Finding(check="room", subject="circuit", outcome=Outcome.UNDETERMINED, says="Which room?")

    from circuitcheck.circuit.model import Site

    rule = Rule(name="room", title="Room", family="site", uses=(), check=only_without)
    base = circuit_with()
    sure = Circuit(file="f", job=base.job, supply=base.supply, site=Site(room="bedroom"))
    unsure = Circuit(file="f", job=base.job, supply=base.supply, site=Site(room="bedroom", known_by={"room": "guess"}))
    assert check(sure, BOOK, [rule]).findings == ()
    (finding,) = check(unsure, BOOK, [rule]).findings
    assert finding.outcome is Outcome.UNDETERMINED
    assert finding.needs == ("site.room",)


def test_every_guess_is_listed_with_what_it_stands_for() -> None:
    feet = 0.3048
    cable = Cable(
        id="feed",
        from_id="panel",
        to_id="b",
        size="14 AWG",
        length_m=Interval(45 * feet, 75 * feet, How.GUESS, "about 60 ft"),
        known_by={"size": "guess", "type": "label"},
    )
    report = check(circuit_with(cables=(cable,)), BOOK, [])
    assert [(guess.key, guess.written) for guess in report.guesses] == [
        ("cable.feed.length", '"about 60 ft"'),
        ("cable.feed.size", '"14 AWG"'),
    ]
    assert "45 ft to 75 ft" in report.guesses[0].stands_for  # a quarter less and a quarter more than 60
    assert any("cable.feed.length" in caution and "45 ft to 75 ft" in caution for caution in report.cautions)


def test_a_guessed_list_is_not_said_to_hold_an_answer_open() -> None:
    box = Box(
        id="b", fittings=("stud",), internal_clamps=False, known_by={"fittings": "guess", "internal_clamps": "guess"}
    )
    listed, tried = check(circuit_with(boxes=(box,)), BOOK, []).guesses
    assert (listed.key, tried.key) == ("box.b.fittings", "box.b.internal_clamps")
    assert "counts as it is written" in listed.stands_for
    assert "stays open" in tried.stands_for
