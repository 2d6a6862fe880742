"""What a rule says about a circuit that leaves things open: the worst and the best case merged into one finding."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import islice, product
from typing import Any

from circuitcheck.case import EACH, Answer, Case, CaseRule, Rows
from circuitcheck.case.answer import Said
from circuitcheck.case.choice import Farthest, bits_of
from circuitcheck.case.entry import OpenEntry
from circuitcheck.checking.asking import (
    Asked,
    Asker,
    Moved,
    badness,
    far_answer,
    other_values,
    outcome_of,
    past_those_listed,
    subjects_of,
    worse_value,
)
from circuitcheck.checking.deciding import MOST_NAMED, deciding, with_the_wild
from circuitcheck.checking.doubted import doubted
from circuitcheck.checking.in_words import (
    MOST_NAMED_IN_WORDS,
    assumed_sentences,
    in_both,
    lines_of_both,
    listed,
    name_of,
    still_open,
)
from circuitcheck.checking.lines import Lines
from circuitcheck.checking.numbers import numbers_of
from circuitcheck.checking.rested_on import rested_on
from circuitcheck.checking.settled import settled_finding
from circuitcheck.checking.without_end import further_on
from circuitcheck.findings import Finding, Outcome, merge_sources
from circuitcheck.possible import Later
from circuitcheck.refs import SINGLE_SECTIONS, Ref

#: Of so many entries without a bound of which no way is always worse every value is tried with every one of the others.
_MOST_EITHER_WAY = 4

FAIL, CAUTION, PASS, UNDETERMINED = Outcome.FAIL, Outcome.CAUTION, Outcome.PASS, Outcome.UNDETERMINED


def findings_of_rule(rule: CaseRule[Any], case: Case, *, strict: bool = False, named: bool = True) -> Iterator[Finding]:
    """What one rule says about each of its subjects.

    ``strict``: for tests; a rule that reads an open entry without saying which way is worse raises UndeclaredError.
    ``named`` False: nobody reads which entries an open answer depends on, so that is not looked for.
    """
    subjects = subjects_of(rule, case, strict=strict)
    if not subjects:
        return
    asker = Asker(rule, case, strict=strict)
    for subject in subjects:
        finding = finding_about(asker, subject, named=named)
        if finding is not None:
            yield finding


def finding_about(asker: Asker, subject: Any, *, named: bool) -> Finding | None:
    """What a rule says about one subject; None where it does not apply."""
    settled = asker.settled(subject)
    if settled is not None:
        return None if settled.made is None else settled_finding(asker, subject, settled.made)
    worst = asker.ask(subject, worst=True)
    best = asker.ask(subject, worst=False)
    far = None
    if worst.answer is None and best.answer is None:
        far = far_answer(asker, subject, worst)
        if far is None:
            return None
    return _Merging(asker, subject, (worst, best), far, named=named).merged()


class _Merging:
    """The worst and the best case of one subject."""

    def __init__(
        self, asker: Asker, subject: Any, ends: tuple[Asked, Asked], far: Answer | None, *, named: bool
    ) -> None:
        """``ends``: the worst and the best case. ``far``: what to say where neither has an answer, and one far may."""
        self.asker, self.subject, self.named = asker, subject, named
        self.worst, self.best = worst, best = ends
        self.bad = next(answer for answer in (worst.answer, best.answer, far) if answer is not None)
        self.good = best.answer or self.bad
        self.reading = asker.case.reading
        #: The set of the open entries that were read.
        self.rests_on = worst.rests_on | best.rests_on
        #: Entries without a bound that the answer depends on.
        self.wild: tuple[OpenEntry, ...] = ()
        #: The values of cases in which an entry without a bound goes far and changes no outcome.
        self.far_values: tuple[float, ...] = ()
        #: Entries without a bound that are read once another one goes far.
        self.read_far: dict[OpenEntry, None] = {}
        #: The worst case of those in which it goes far, where that is worse than the worst near: it is told instead.
        self.farthest: Asked | None = None
        #: Whether there is no number any more where one goes far.
        self.no_number_far = False
        #: What the rule says where an entry without a bound goes so far that the outcome changes.
        self.far: Answer | None = None

    def merged(self) -> Finding | None:
        """Both cases as one finding; None where the rule may apply and is met then: that tells nobody anything."""
        may_not_apply = self.best.answer is None or self.worst.answer is None
        good_outcome = PASS if may_not_apply else self.good.outcome
        self.wild = self._wild()
        differ = self.worst.fails and not self.best.fails
        if not differ and not (self.worst.complete and self.best.complete):  # what was not tried may be otherwise
            return self.finding(UNDETERMINED, self._movable()[:MOST_NAMED_IN_WORDS])
        if self.best.fails and not self.worst.fails:  # a wrong direction somewhere: open, never a pass
            return self.finding(UNDETERMINED, self._movable()[:MOST_NAMED_IN_WORDS])
        if good_outcome is FAIL and not self.wild:
            return self.finding(FAIL)
        if good_outcome is UNDETERMINED:
            needs = tuple(dict.fromkeys((*self._named_by(self.good), *self._without_a_row())))
            if self.good.ask and self.worst.fails and not needs and self.named:
                needs = deciding(self.asker, self.subject, self.worst, self.best)  # at worst it fails whoever is asked
            return self.finding(UNDETERMINED, needs)
        if self.wild:
            if all(entry.possible.later is not None for entry in self.wild) and not self._fails_when_settled_well(()):
                return self._later(self.wild)
            return self.finding(UNDETERMINED, self._named_with_the_wild())
        if not self.worst.fails:
            outcome = self.bad.outcome if self.worst.answer is not None else good_outcome
            if good_outcome is CAUTION and outcome is PASS:  # what is worse for the numbers is better for this
                self.bad, self.good, self.farthest = self.good, self.bad, None
                outcome = CAUTION
            if outcome is PASS and may_not_apply:
                return None
            if outcome is UNDETERMINED:
                return self.finding(outcome, self._named_by(self.bad))
            return self.finding(outcome, doubted(self.asker, self.subject, self.worst, self._movable()))
        later = tuple(entry for entry in self._movable() if entry.possible.later is not None)
        if later and not self._fails_when_settled_well(later):
            return self._later(later)
        needs = deciding(self.asker, self.subject, self.worst, self.best) if self.named else ()
        return self.finding(UNDETERMINED, needs)

    def _later(self, entries: Sequence[OpenEntry]) -> Finding:
        """A caution: it fails only through how long a load stays on, what is plugged in, or work still to be done."""
        to_come = all(entry.possible.later is Later.WORK_TO_COME for entry in entries)
        # What is plugged in is asked: a receptacle that carries nothing is no answer.
        plugged = [entry for entry in entries if entry.possible.later is Later.USE]
        return replace(self.finding(CAUTION, plugged), to_come=to_come, says=self._says_later(entries))

    def _says_later(self, entries: Sequence[OpenEntry]) -> str:
        bad = self.far if self.far is not None else self.bad
        if bad.to_come is not None:
            return in_both(bad.to_come, self.good.to_come or bad.to_come)
        names = listed([name_of(entry) for entry in entries])
        says = in_both(self.bad.says, self.good.says, self._further_on(CAUTION, lambda answer: answer.says))
        return f"{says} It depends on: {names}."

    def _wild(self) -> tuple[OpenEntry, ...]:
        """The entries without a bound on which the outcome depends: those that change it when they go far.

        Where none does alone (a hole that is small in any member, a member in which any small hole fits), a least set
        that does together.
        """
        unbounded = dict.fromkeys((*self.worst.unbounded, *self.best.unbounded))
        turning = (
            entry for entry in unbounded if any(self._goes_far({entry: value}) for value in self.asker.values(entry))
        )
        alone = tuple(islice(turning, MOST_NAMED))  # past what is named nobody asks which others do
        unbounded |= self.read_far  # a light that turns out to be a strip has a length
        unbounded |= past_those_listed(self.worst, self.best)
        if alone or len(unbounded) < 2:
            return alone
        either_way = [entry for entry in unbounded if self.asker.direction(entry) is EACH][:_MOST_EITHER_WAY]
        if len(either_way) > 1:  # the worst, or the best, may be where one goes far and another stands near
            for values in product(*map(self.asker.values, either_way)):
                if self._goes_far(dict(zip(either_way, values, strict=True))):
                    return tuple(either_way)
        together = Farthest((entry, worse_value(self.asker, entry)) for entry in unbounded)
        if not self._goes_far(together):
            return ()
        if len(together) > MOST_NAMED:  # of so many nobody looks for a least set
            return tuple(together)[:MOST_NAMED]
        for entry in unbounded:
            fewer = Farthest((other, value) for other, value in together.items() if other is not entry)
            if self._goes_far(fewer):
                together = fewer
        return tuple(together)

    def _goes_far(self, moved: Moved) -> bool:
        """Whether entries without a bound change the outcome of either case at these values of them."""
        if all(self.asker.stands_at(entry, value) for entry, value in moved.items()):
            self.no_number_far |= self.worst.answer is not None and self.worst.answer.value is None
            return False
        far = self.asker.ask(self.subject, worst=True, moved=moved)
        if outcome_of(far.answer) is outcome_of(self.worst.answer):
            good = self.asker.ask(self.subject, worst=False, moved=moved)
            if outcome_of(good.answer) is outcome_of(self.best.answer):
                self.read_far |= dict.fromkeys((*far.unbounded, *good.unbounded))
                self.far_values += (*far.values, *good.values)
                if far.answer is not None and far.answer.value is None:
                    self.no_number_far = True
                elif badness(far.answer) > badness(self.farthest.answer if self.farthest else self.bad):
                    self.farthest = far
                return False
        if badness(far.answer) > badness(self.far):
            self.far = far.answer
        return True

    def _named_with_the_wild(self) -> Sequence[OpenEntry]:
        """The entries without a bound that decide, and what else to find out on the same visit."""
        if not self.named or len(self.wild) >= MOST_NAMED:
            return self.wild
        return with_the_wild(self.asker, self.subject, (self.worst, self.best), self.wild, self._without_a_row())

    def _without_a_row(self) -> tuple[OpenEntry, ...]:
        """Where the tables hold nothing at worst, what that answer names: its sentence is told, so it is asked for."""
        keys = self.bad.keys if self.bad.outcome is UNDETERMINED else ()
        return self._of(keys)

    def _named_by(self, answer: Answer) -> tuple[OpenEntry, ...]:
        """What to find out where the tables hold nothing: of what was read, what the answer names.

        Where it names nothing that is open: in the worst case alone what brings another answer, else everything; in
        every case nothing, so that what it names is asked again. Nothing where the answer says whom to ask instead.
        """
        named = self._of(answer.keys)
        if named or answer.ask:
            return named
        if not answer.keys:
            return self._reads
        if self.good.outcome is UNDETERMINED or not self.named:
            return ()
        return tuple(entry for entry in self._movable() if self._settles(entry)) or self._reads

    def _of(self, keys: Sequence[Ref]) -> tuple[OpenEntry, ...]:
        """Of what was read the entries that an answer names."""
        return tuple(entry for entry in self._reads if entry.ref in keys) if keys else ()

    @property
    def _reads(self) -> tuple[OpenEntry, ...]:
        return self.reading.entries_of(self.rests_on)

    def _settles(self, entry: OpenEntry) -> bool:
        """Whether the tables hold something in the worst case once this entry is another."""
        return any(
            outcome_of(self.asker.ask(self.subject, worst=True, moved={entry: value}).answer) is not UNDETERMINED
            for value in other_values(self.asker, entry, worst=True)
        )

    def _movable(self) -> tuple[OpenEntry, ...]:
        """Of what was read, the entries that can be one thing or another."""
        return self.reading.entries_of(self.rests_on & self.asker.movable)

    def _fails_when_settled_well(self, entries: Sequence[OpenEntry]) -> bool:
        best = {entry: self.asker.values(entry)[0] for entry in entries}
        return self.asker.fails(self.subject, worst=True, moved=best)

    # -- the finding ---------------------------------------------------------------------------------------------

    def finding(self, outcome: Outcome, needs: Sequence[OpenEntry] = ()) -> Finding:
        """The finding with this outcome; ``needs``: what has to be found out."""
        far = self.farthest.answer if self.farthest is not None and outcome is not UNDETERMINED else None
        has_no_end = self._has_no_end(outcome)
        if far is not None and not has_no_end:
            self.bad = far
        at_best = has_no_end and outcome is FAIL and self.good.value is not None  # told: at least so much
        if at_best and self.bad.says.template != self.good.says.template:
            self.bad = self.good
        bad, good = self.bad, self.good
        told_of = good if at_best else bad
        reading, rests_on, cited = self.reading, self.rests_on, self.rests_on & ~self.asker.presumed
        told = rests_on & reading.assumed & ~(reading.unbounded | reading.presumed)
        if self.named:
            rested = bits_of(rested_on(self.asker, self.subject, self.worst, rests_on))
            told, cited = told | rested, cited | rested
        left_out = self._left_out()
        need_keys = tuple(dict.fromkeys([entry.path for entry in needs]))
        ask = bad.ask or (good.ask if outcome is UNDETERMINED else ())
        if outcome is UNDETERMINED and not need_keys and not ask:
            keys = good.keys if good.outcome is UNDETERMINED else bad.keys
            need_keys = tuple(map(str, keys))  # nothing open settles it, and the tables hold nothing for it
        # At worst there may be no number: nothing is the worst it can be.
        endless = has_no_end or told_of.value is None or self.no_number_far
        numbers = numbers_of(
            None if has_no_end and not at_best else told_of.value,
            (self.worst, self.best),
            self.far_values,
            endless=endless,
            at_least=bad.at_least or good.at_least,
        )
        part = bad.part.ref
        return Finding(
            check=self.asker.rule.name,
            subject="circuit" if part.section in SINGLE_SECTIONS else part.id,
            outcome=outcome,
            says=self._says(outcome, needs),
            value=numbers.value,
            limit=told_of.limit,
            at_least=bad.at_least,
            unit=bad.unit,
            low=numbers.low,
            high=numbers.high,
            working=Lines(self._working),
            sources=merge_sources(
                bad.sources,
                () if good.sources == bad.sources else good.sources,
                reading.sources_of(cited),
            ),
            needs=need_keys,
            assumed=assumed_sentences(reading.entries_of(told), left_out),
            assumed_keys=reading.paths_of(told | bits_of(left_out)),
            keys=tuple(dict.fromkeys((*need_keys, *(str(ref) for ref in bad.keys)))),
            parts=told_of.rows.made() if isinstance(told_of.rows, Rows) else told_of.rows,
            to_do=bad.to_do.get(outcome, ()),
            ask=ask,
            stop=all(asked.answer is not None and asked.answer.stop for asked in (self.worst, self.best)),
            cause=bad.cause if outcome is FAIL else "",
        )

    def _has_no_end(self, outcome: Outcome) -> bool:
        """Whether nobody can tell how bad the number may be, since an entry without a bound has a part in it."""
        if self.wild or (outcome is FAIL and (self.worst.unbounded or self.best.unbounded)):
            return True
        return outcome is UNDETERMINED and self._goes_on()

    def _goes_on(self) -> bool:
        """Whether an entry without a bound takes the number further than it stands near: together they take it on."""
        near = (*self.worst.values, *self.best.values)
        return bool(near) and any(not min(near) <= far <= max(near) for far in self.far_values)

    def _left_out(self) -> Sequence[OpenEntry]:
        """Entries without a bound that the rule set aside: they stand at their best end, and nobody is asked."""
        asked = self.worst.asked | self.best.asked
        return self.reading.entries_of(self.rests_on & self.reading.unbounded & ~asked)[:MOST_NAMED_IN_WORDS]

    def _says(self, outcome: Outcome, needs: Sequence[OpenEntry]) -> str:
        bad, good = self.bad, self.good
        if outcome is UNDETERMINED and self.worst is not self.best and bad.outcome is not UNDETERMINED:
            return self._says_open(needs)
        if outcome is UNDETERMINED and bad.open_says is not None and self._is_about_the_unknown(needs):
            return still_open(str(bad.open_says), needs, all_tried=self.worst.complete and self.best.complete)
        if outcome is CAUTION and any(entry.kind in self.asker.rule.doubts for entry in needs):
            return self._says_open(needs)
        if outcome is CAUTION and self._cautions_at_worst_only():
            return f"At worst: {bad.says}"
        if self.worst.answer is None:
            return str(good.says)
        says = in_both(bad.says, good.says, self._further_on(outcome, lambda answer: answer.says))
        return f"At best: {says}" if bad is good and bad is not self.worst.answer else says

    def _further_on(self, outcome: Outcome, sentence: Callable[[Answer], Said | None]) -> Said | None:
        """What the sentence says where entries without a bound go on; None where they have no part in it."""
        if not self._has_no_end(outcome):
            return None
        unbounded = dict.fromkeys((*self.wild, *self.worst.unbounded, *self.best.unbounded))
        near = self.worst if self.bad is self.worst.answer else self.best
        return further_on(self.asker, self.subject, near, unbounded, sentence)

    def _says_open(self, needs: Sequence[OpenEntry]) -> str:
        bad, good = self.bad, self.good
        if bad.open_says is not None:
            further = self._further_on(UNDETERMINED, lambda answer: answer.open_says)
            says = in_both(bad.open_says, good.open_says or bad.open_says, further)
        elif bad.says == good.says:
            says = f"Cannot tell yet: {bad.says}"
        else:
            says = f"Cannot tell yet. At worst: {bad.says} At best: {good.says}"
        return still_open(says, needs, all_tried=self.worst.complete and self.best.complete)

    def _is_about_the_unknown(self, needs: Sequence[OpenEntry]) -> bool:
        """Whether the tables hold nothing at worst, for what nobody knows yet: no sentence then says what it is."""
        if self.bad.value is not None or self.good.outcome is UNDETERMINED:
            return False
        return any(entry.ref in self.bad.keys for entry in needs)

    def _cautions_at_worst_only(self) -> bool:
        """Whether only the worst case is a caution, and says so in a sentence of its own: a guess, and no fact."""
        worst, best = self.worst.answer, self.best.answer
        if outcome_of(worst) is not CAUTION or outcome_of(best) is not PASS:
            return False
        return best is None or best.says.template != self.bad.says.template

    def _working(self) -> Sequence[str]:
        is_far = self.farthest is not None and self.bad is self.farthest.answer
        bad = self.asker.told(self.subject, self.farthest if is_far else self.worst)
        good = bad if self.worst is self.best else self.asker.told(self.subject, self.best)
        return lines_of_both(bad, good)
