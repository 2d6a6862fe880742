"""Plans and surveys of small circuits, in every form, for the tests of this folder."""

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_bytes
from circuitcheck.paper.writing import rendered
from circuitcheck.sheets import plan_outline, survey_outline
from circuitcheck.tables.rulebook import load_rulebook, vocabulary

EXAMPLES = Path(__file__).parents[2] / "examples"
MADE = date(2026, 11, 25)
FORMS = (".txt", ".md", ".html", ".pdf")


#: id of a circuit -> the circuit, kept so that no other gets its id, and its report.
_CHECKED = {}


@cache
def example(name):
    data = (EXAMPLES / f"{name}.circuit.toml").read_bytes()
    return read_bytes(data, f"{name}.circuit.toml", vocabulary())


def checked(built):
    """The report of a circuit, made once for all plans and surveys of this very circuit."""
    if id(built) not in _CHECKED:
        _CHECKED[id(built)] = built, check(built, load_rulebook(built.job.rulebook))
    return _CHECKED[id(built)][1]


def plan(built, **changed):
    """The outline of the plan; ``changed`` replaces parts of the report."""
    book = load_rulebook(built.job.rulebook)
    report = replace(checked(built), **changed)
    return plan_outline(report, built, book, digest="ab" * 32, tool="circuitcheck 0.0", made=MADE)


def passed_plan(built):
    """The plan as if every check had passed: joints, order and lists of circuits that are not ready."""
    return plan(built, findings=())


def survey(built=None):
    report = checked(built) if built is not None else None
    return survey_outline(report, built, tool="circuitcheck 0.0", made=MADE)


def bytes_of(outline, form, paper="letter"):
    return rendered(outline, Path("sheet" + form), paper=paper)


def text_of(outline, form=".txt"):
    return bytes_of(outline, form).decode("utf-8")


def flat(outline, form=".md"):
    """The sheet in one line; Markdown keeps a table's cells whole, and its escapes are taken out."""
    return " ".join(text_of(outline, form).replace("\\", "" if form == ".md" else "\\").split())
