"""Rules made for a test of the engine: small, and read off by hand. No shipped rule takes part."""

from circuitcheck.case import Amount, Answer, CaseRule, Family, said
from circuitcheck.case.making import case_of
from circuitcheck.checking.asking import Asker
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.findings import Outcome
from tests.rules.build import book as rulebook

FAIL, PASS, OPEN, CAUTION = Outcome.FAIL, Outcome.PASS, Outcome.UNDETERMINED, Outcome.CAUTION


def rule(answer, subjects=lambda case: (case.supply,), **more):
    return CaseRule(name="trial", title="Trial", family=Family.SITE, rank=1, subjects=subjects, answer=answer, **more)


def at_most(limit, value_of):
    """Fails where the value passes the limit."""

    def answer(part, case, book):
        value = value_of(part, case)
        return Answer(
            part=part,
            outcome=FAIL if value > limit else PASS,
            says=said("{part} has {value}.", part=getattr(part, "id", "circuit"), value=Amount(value, "A")),
            value=value,
            limit=limit,
            working=lambda: (said("value: {value}", value=Amount(value, "A")),),
        )

    return answer


def saying(outcome_of, template="It is {outcome}.", **more):
    """Answers with this outcome, None for none, and a sentence that names it."""

    def answer(part, case, book):
        outcome = outcome_of(part, case)
        if outcome is None:
            return None
        return Answer(part=part, outcome=outcome, says=said(template, outcome=outcome.value), **more)

    return answer


def judged(made, built, strict=True, **more):
    return list(findings_of_rule(made, case_of(built, rulebook()), strict=strict, **more))


def about(made, built, **more):
    """The one finding of a rule, None where it says nothing."""
    findings = judged(made, built, **more)
    assert len(findings) <= 1
    return findings[0] if findings else None


def asker_of(made, built, strict=True):
    """An asker of a rule, and the first thing that the rule speaks about."""
    asker = Asker(made, case_of(built, rulebook()), strict=strict)
    return asker, next(iter(made.subjects(asker.case)))


def amperes(part, case):
    return sum(each.current_a for each in case.loads)


def meters(name):
    """The length of a cable, out of its case."""
    return lambda case: next(each.length_m for each in case.cables if each.id == name)
