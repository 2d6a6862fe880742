"""Notes of small circuits, in every form, for the tests of this folder."""

from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from pathlib import Path

from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_bytes
from circuitcheck.note import note_outline
from circuitcheck.paper import Outline
from circuitcheck.paper.writing import rendered
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.rules.build import CUBIC_INCH, box, cable, circuit, load

EXAMPLES = Path(__file__).parents[2] / "examples"
MADE = date(2026, 11, 25)
FORMS = (".txt", ".md", ".html", ".pdf")


@dataclass(frozen=True, eq=False)
class Noted:
    """A circuit with its note; each form of it is written once."""

    outline: Outline

    @cache  # noqa: B019 - as long as the tests of a file run
    def bytes(self, form, paper="letter"):
        return rendered(self.outline, Path("note" + form), paper=paper)

    def text(self, form):
        return self.bytes(form).decode("utf-8")


def noted(built, *, digest="ab" * 32, title=None):
    book = load_rulebook(built.job.rulebook)
    if title is not None:
        built = replace(built, job=replace(built.job, title=title))
    report = check(built, book)
    return Noted(note_outline(report, built, book, digest=digest, tool="circuitcheck 0.0", made=MADE))


@cache
def example(name):
    """The note of an example, made once."""
    return fresh(name)


def fresh(name):
    """The note of an example, made anew."""
    data = (EXAMPLES / f"{name}.circuit.toml").read_bytes()
    return noted(read_bytes(data, f"{name}.circuit.toml", vocabulary()))


def small(**changed):
    return circuit(
        box("attic"),
        cable("feed", "panel", "attic", origin="existing"),
        load("lamp", "attic", power_w=60, **changed),
    )


def gallery(count, *, alike=True):
    """A chain of that many boxes with a light in each."""
    parts = [box("start"), cable("feed", "panel", "start", origin="existing")]
    before = "start"
    for number in range(1, count + 1):
        name = f"gallery {number}"
        more = 0 if alike else 0.01 * number
        parts.append(box(name, origin="added", volume_m3=16 * CUBIC_INCH))
        parts.append(cable(f"to {number}", before, name, length_m=2.5 + more))
        parts.append(load(f"light {number}", name, power_w=2 + more, origin="added"))
        before = name
    return circuit(*parts)
