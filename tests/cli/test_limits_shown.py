"""A limit is shown as the sentence beside it says it: a most cut, a least raised; on the page, in Python, on screen."""

from dataclasses import replace
from datetime import date

from circuitcheck.advice.comparing import compared
from circuitcheck.advice.one_box import OneBox
from circuitcheck.advice.one_box_words import worksheet
from circuitcheck.advice.order import checks_after
from circuitcheck.api.json_report import finding_entry
from circuitcheck.api.report import Report
from circuitcheck.checking import check
from circuitcheck.cli.finding_page import finding_lines, passes_in_short
from circuitcheck.cli.lines import PageStyle
from circuitcheck.findings import Finding, Outcome
from circuitcheck.findings import Part as Share
from circuitcheck.note.drop import Volts
from circuitcheck.sheets.comparison import comparison_outline
from circuitcheck.ui.finding_text import finding_page
from circuitcheck.ui.gauges import box_gauge, breaker_gauge
from circuitcheck.ui.spans import line_text
from tests.rules.build import book, box, cable, circuit, load

STYLE = PageStyle(width=200)


def hot_cable():
    """Table 310.16 and its factors: 14 AWG of 90 °C 25 A x 0.71 at 60 °C x 0.50 with 12 conductors = 8.875 A."""
    hot = cable("run", "panel", "a", ambient_c=60, bundled_with=5, current_carrying=12)
    return circuit(box("a"), hot, load("lamp", "a", current_a=9))


def ampacity_of(built) -> Finding:
    return next(finding for finding in check(built, book()).findings if finding.check == "ampacity")


def test_a_most_is_cut_in_the_sentence_and_beside_it():
    finding = ampacity_of(hot_cable())
    assert finding.limit == 8.875
    page = "\n".join(finding_lines(finding, STYLE))
    screen = "\n".join(map(line_text, finding_page(finding, "", 100)))
    for shown in (page, screen):
        assert "more than the 8.87 A it may carry" in shown
        assert "limit 8.87 A" in shown
        assert "8.88" not in shown


def judged(
    value: float, limit: float, *, at_least: bool = False, check: str = "box-fill", unit: str = "in^3"
) -> Finding:
    outcome = Outcome.FAIL if (value < limit if at_least else value > limit) else Outcome.PASS
    numbers = {"value": value, "low": value, "high": value, "limit": limit, "unit": unit, "at_least": at_least}
    return Finding(check=check, subject="b", outcome=outcome, says="", **numbers)


def test_what_is_just_over_or_just_within_is_never_shown_as_the_other():
    over, within = judged(15.004, 15.0), judged(8.8759, 8.8786)
    assert "value 15.004 in^3, limit 15 in^3" in "\n".join(finding_lines(over, STYLE))
    assert "8.876 in^3 (limit 8.878)" in "\n".join(passes_in_short([within], STYLE))
    assert any("15.004 in^3, limit 15 in^3" in line_text(line) for line in finding_page(over, "", 100))
    assert [box_gauge([box]).short for box in (over, within)] == ["15.004 of 15 in³", "8.876 of 8.878 in³"]
    assert breaker_gauge([judged(15.004, 15.0, check="load-share", unit="A")]).short == "15.004 of 15 A"


def test_a_least_is_raised():
    below = judged(22.79, 22.801, at_least=True, check="low-voltage-drop", unit="V")
    assert "value 22.8 V, limit 22.9 V" in "\n".join(finding_lines(below, STYLE))
    assert any("22.8 V, limit 22.9 V" in line_text(line) for line in finding_page(below, "", 100))


def test_in_python_and_in_a_worksheet():
    report = Report(check(hot_cable(), book()))
    (ours,) = report.of("ampacity")
    assert repr(ours).endswith("9 A (limit 8.87 A)>")
    assert "<td>8.87 A</td>" in report._repr_html_()
    counted = judged(15.504, 15.506)
    lines = [*worksheet(OneBox(replace(counted, parts=(Share("conductors", 15.504),)), (), None))]
    assert [line.split()[-1] for line in lines[-2:]] == ["15.51", "15.50"]


def test_on_a_comparison():
    report = check(hot_cable(), book())
    both = [replace(report, findings=(judged(value, 8.8786),)) for value in (10.0, 11.0)]
    outline = comparison_outline(compared(both), ["a", "b"], tool="", made=date(2026, 1, 1))
    assert "'10 in^3', 'limit 8.878 in^3'" in str(outline)


def test_the_best_of_what_has_no_bound_is_told_as_that():
    over = replace(judged(20.0, 15.0), high=None)
    under = replace(judged(11.99, 19.2, at_least=True, check="low-voltage-drop", unit="V"), low=None)
    for finding, number in ((over, "at least 20 in^3"), (under, "at most 12 V")):
        assert f"value {number}, limit" in "\n".join(finding_lines(finding, STYLE))
        assert any(f"{number}, limit" in line_text(line) for line in finding_page(finding, "", 100))
    report = replace(check(hot_cable(), book()), findings=(over, under))
    assert repr(Report(report).of("low-voltage-drop")[0]).endswith("at most 12 V (limit 19.2 V)>")
    assert "<td>at least 20 in^3</td>" in Report(report)._repr_html_()
    outline = comparison_outline(compared([report, check(hot_cable(), book())]), ["a", "b"], tool="", made=date.today())
    assert "'at least 20 in^3', 'limit 15 in^3'" in str(outline)


def test_no_paper_has_the_best_of_what_has_no_bound_for_a_most():
    """1000 W over 100 m of 14 AWG, as in tests/ui/test_drawing_and_gauges.py, and beside it a light that draws more."""
    lamp, other = load("lamp", "a", power_w=1000, min_voltage_v=110), load("other", "a", power_w=None, kind="light")
    alone = circuit(box("a"), cable("run", "panel", "a", length_m=100), lamp)
    both = replace(alone, loads=(*alone.loads, other))
    promised = "By calculation at most"
    assert any(promised in line for line in checks_after(alone, check(alone, book())))
    assert not any(promised in line for line in checks_after(both, check(both, book())))
    under = judged(11.99, 19.2, at_least=True, check="low-voltage-drop", unit="V")
    assert Volts(alone, book()).shown([under])["b"] == "11.99 V"
    assert Volts(alone, book()).shown([replace(under, low=None)])["b"] == "? V"


def test_the_entry_of_a_least_says_so():
    assert finding_entry(judged(22.9, 22.8, at_least=True))["at_least"] is True
    assert "at_least" not in finding_entry(judged(22.9, 22.8))
