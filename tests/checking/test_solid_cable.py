"""What the print of a cable settles by itself, as the trade makes NM-B: solid copper in 14, 12 and 10 AWG."""

import pytest

from circuitcheck.possible.inferences import INFERENCES, UNSETTLED
from tests.rules.build import book as rulebook
from tests.rules.build import box, cable, circuit, supply


@pytest.mark.parametrize("edition", ["nec-2017", "nec-2020", "nec-2023"])
@pytest.mark.parametrize(
    ("entries", "options"),
    [
        ({"type": "NM-B", "size": "14 AWG", "material": "copper"}, ("solid",)),
        ({"type": "NM-B", "size": "10 AWG", "material": "copper"}, ("solid",)),
        # There is no aluminum in 14 AWG, so that the metal need not be known.
        ({"type": "NM-B", "size": "14 AWG", "material": None}, ("solid",)),
        # NM-B is younger than the old aluminum cable: copper is assumed, and listed as assumed.
        ({"type": "NM-B", "size": "12 AWG", "material": None}, ("solid",)),
        ({"type": "NM-B", "size": "12 AWG", "material": "aluminum"}, None),
        ({"type": "NM-B", "size": "8 AWG", "material": "copper"}, None),
        ({"type": "NM", "size": "14 AWG", "material": "copper"}, None),
        ({"type": "MC", "size": "14 AWG", "material": "copper"}, None),
        ({"type": "NM-B", "size": None, "material": "copper"}, None),
        ({"type": None, "size": "14 AWG", "material": "copper"}, None),
    ],
)
def test_the_print_settles_solid_conductors(edition, entries, options):
    run = cable("run", "panel", "end", stranding=None, **entries)
    built = circuit(supply(), box("end"), run)
    inferred = INFERENCES["stranding"](built.tree.cable["run"], built, rulebook(edition))
    assert inferred is UNSETTLED if options is None else inferred.options == options


def test_what_the_file_says_stays():
    run = cable("run", "panel", "end", stranding="stranded", type="NM-B", size="14 AWG", material="copper")
    built = circuit(supply(), box("end"), run)
    assert INFERENCES["stranding"](built.tree.cable["run"], built, rulebook("nec-2023")) is None
