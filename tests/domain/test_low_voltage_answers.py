"""What is said where nothing can be worked out behind a driver, and what is asked for."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.low_voltage_answers import no_cable, not_in_tables_answer
from circuitcheck.findings import Outcome
from tests.rules.build import book, box, cable, circuit, driver, low_voltage_load


def case_with(material):
    lead = cable("lead", "d", "l", size="2.5 mm^2", material=material)
    built = circuit(box("b"), cable("f", "panel", "b"), driver("d", "b"), low_voltage_load("l", power_w=9), lead)
    return case_of(built, book())


def test_a_light_without_a_cable():
    answer = no_cable(case_with("copper").low_voltage_loads[0])
    assert answer.outcome is Outcome.UNDETERMINED
    assert '"l"' in str(answer.says)
    assert [str(key) for key in answer.keys] == ["low_voltage_load.l.fed_from"]


@pytest.mark.parametrize(("material", "key"), [("copper", "size"), ("aluminum", "material")])
def test_a_conductor_of_no_table(material, key):
    """Copper of that size is listed nowhere: the size is in doubt. Of another metal it is the metal."""
    case = case_with(material)
    light, (source,), lead = case.low_voltage_loads[0], case.drivers, case.tree.cable["lead"]
    for part, begin in ((light, 'light "l"'), (source, 'driver "d"'), (lead, 'cable "lead"')):
        answer = not_in_tables_answer(part, lead, "V")
        assert (answer.outcome, answer.unit) == (Outcome.UNDETERMINED, "V")
        assert begin in str(answer.says)
        assert begin in str(answer.open_says)
        assert 'cable "lead"' in str(answer.open_says)
        assert f'no 2.5 mm^2 {material} conductor, as in cable "lead"' in str(answer.says)
        assert [str(each) for each in answer.keys] == [f"cable.lead.{key}"]
