"""Voltage drop by a nodal solve of the whole circuit with a general library, loads of constant power."""

import math

import numpy as np

from tests.oracle.capacity import awg, branch_cables, power_factor, volt_amperes
from tests.oracle.printed import (
    ALPHA_ALUMINUM,
    ALPHA_COPPER,
    ALUMINUM,
    CLAD_SHARE_OF_COPPER,
    METRIC_OHM_PER_KM,
    NONMETALLIC,
    OHM_PER_KFT,
    REACTANCE_PER_KFT,
)
from tests.oracle.reading import ends

KFT = 304.8


def _resistance(cable, end):
    """Ohm per metre of one conductor, at best (0) and at worst (1) of what the file leaves open."""
    celsius = ends(cable.get("conductor_temperature", "75 degC"))[end]
    size = awg(cable["size"])
    if "mm" in cable["size"]:
        at_20 = METRIC_OHM_PER_KM[cable["size"].split()[0]] / 1000
        at_75 = at_20 / (1 + ALPHA_COPPER * (20 - 75))
        return at_75 * (1 + ALPHA_COPPER * (celsius - 75))
    given = cable.get("material")
    maybe = (given or "copper",)
    # The print NM-B in 14, 12 and 10 AWG says copper, solid (issue 9, B8).
    printed = cable["type"] == "NM-B" and cable["size"] in ("14 AWG", "12 AWG", "10 AWG")
    if given is None and size in ALUMINUM and not printed:
        maybe = ("copper", "aluminum", "copper-clad aluminum")
    strands = ("solid", "stranded") if "stranding" not in cable else (cable["stranding"],)
    if printed and "stranding" not in cable and given in (None, "copper"):
        strands = ("solid",)
    found = []
    for material in maybe:
        alpha = ALPHA_COPPER if material == "copper" else ALPHA_ALUMINUM
        for one in strands:
            column = (2 if material == "aluminum" else 0) + (one == "stranded")
            ohm = OHM_PER_KFT[size][column] / (CLAD_SHARE_OF_COPPER if material == "copper-clad aluminum" else 1)
            found.append(ohm / KFT * (1 + alpha * (celsius - 75)))
    return (min, max)[end](found)


def _demand(load, end, dwelling, way):
    """P + jQ at the least and at the most that is lost for them [W, var]; a receptacle's planning figure is watts.

    Into a receptacle of a dwelling whose load is not given goes nothing at the least (issue 9, B2). Of a load known by
    its volt-amperes the watts grow with the power factor while the vars shrink; it never takes the most of both. What
    is lost goes by R P + X Q of its ``way`` [ohm]: most where S points as R + jX does.
    """
    least, most = power_factor(load)
    if not {"power", "apparent", "current"} & set(load):
        return 0j if dwelling and not end else volt_amperes(load)[end] + 0j
    if "power" in load:
        factor = (most, least)[end]
        watts = ends(load["power"])[end] * load.get("quantity", 1)
        return complex(watts, watts * math.sqrt(1 - factor**2) / factor)
    turn = min(max(way.real / abs(way), least), most)
    losses = {
        way.real * factor + way.imag * math.sqrt(1 - factor**2): factor for factor in (least, *(turn,) * end, most)
    }
    factor = losses[(min, max)[end](losses)]
    return volt_amperes(load)[end] * complex(factor, math.sqrt(1 - factor**2))


def drops(sections, end):
    """Load id -> percent of 120 V lost from the panel; None where something is unknown, empty where nothing serves."""
    if "driver" in sections or any(volt_amperes(load) is None for load in sections["load"]):
        return None
    places = {"panel": 0} | {box["id"]: 1 + number for number, box in enumerate(sections["box"])}
    admittance = np.zeros((len(places),) * 2, complex)
    way = {"panel": 0j}
    for cable in branch_cables(sections):
        size = awg(cable["size"])
        reactance = REACTANCE_PER_KFT[size][cable["type"] not in NONMETALLIC] / KFT
        length = ends(cable["length"])[end]
        ohm = 2 * length * complex(_resistance(cable, end), reactance)
        way[cable["to"]] = way[cable["from"]] + ohm
        here = 1 / ohm
        one, other = places[cable["from"]], places[cable["to"]]
        admittance[[one, other], [one, other]] += here
        admittance[[one, other], [other, one]] -= here
    power = np.zeros(len(places), complex)
    for load in sections["load"]:
        dwelling = sections.get("site", {}).get("dwelling") is not False
        power[places[load["box"]]] += _demand(load, end, dwelling, way[load["box"]])
    volts = np.full(len(places), 120 + 0j)
    inverse = np.linalg.inv(admittance[1:, 1:])
    for _ in range(2000):
        new = inverse @ (-np.conj(power[1:] / volts[1:]) - admittance[1:, 0] * 120)
        if abs(new).min() < 12:
            return {}
        change = abs(new - volts[1:]).max()
        volts[1:] = new
        if change < 1e-9:
            return {load["id"]: (120 - abs(volts[places[load["box"]]])) / 1.2 for load in sections["load"]}
    return {}
