"""What to keep in mind about a report: each value from memory once, each check on common practice once."""

from circuitcheck.checking.cautions import ON_PRACTICE, cautions_of
from circuitcheck.findings import Finding, Guess, Outcome, Source, Status


def source(status, place="1.1", document="NFPA 70", edition="2023"):
    return Source(document, edition, place, status)


PUBLISHED, PRACTICE = source(Status.PUBLISHED), source(Status.COMMON_PRACTICE, "", "a trade", "")
MEMORY, OTHER = source(Status.FROM_MEMORY, "2.2"), source(Status.FROM_MEMORY, "", "a handbook", "")


def finding(check, *sources, **more):
    return Finding(check=check, subject="circuit", outcome=Outcome.PASS, says="so", sources=sources, **more)


def test_nothing_to_keep_in_mind():
    assert cautions_of([finding("box-fill", PUBLISHED)], []) == ()


def test_a_check_that_rests_on_practice_too_is_named_once():
    findings = [
        finding("box-fill", PUBLISHED, PRACTICE),
        finding("box-fill", PRACTICE),
        finding("load-share", PUBLISHED, MEMORY),
    ]
    (memory, practice) = cautions_of(findings, [])
    assert practice == f"{ON_PRACTICE}: box fill."
    assert memory == "Used from memory, not yet compared with a source: NFPA 70 2023 2.2."


def test_each_place_is_named_once_and_without_gaps():
    findings = [finding("box-fill", MEMORY, OTHER), finding("load-share", OTHER, MEMORY)]
    assert cautions_of(findings, []) == (
        "Used from memory, not yet compared with a source: NFPA 70 2023 2.2; a handbook.",
    )


def test_guesses_come_before_what_is_assumed_and_each_sentence_once():
    findings = [finding("box-fill", assumed=("A.", "B.")), finding("load-share", assumed=("B.", "C."))]
    guessed = Guess("cable.feed.length", '"about 5 m"', "stands for 3 to 6 m in every check")
    assert cautions_of(findings, [guessed]) == (
        'Guessed: cable.feed.length, written "about 5 m"; stands for 3 to 6 m in every check.',
        "A.",
        "B.",
        "C.",
    )
