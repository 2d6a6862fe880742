"""What houses usually have, so that generated circuits are near the limits and their answers differ.

Nothing here is a limit of the project: a value outside is as valid, and a share of the draws takes any that the file
accepts. Numbers are in the unit in which the key is shown (``Kind.unit``).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

#: ``section.key`` -> the span that most draws take.
SPANS: Mapping[str, tuple[float, float]] = {
    "supply.measured_voltage": (112, 124),
    "supply.impedance": (0.02, 0.5),
    "supply.measured_current": (0.5, 18),
    "supply.other_leg_current": (0, 18),
    "supply.loaded_voltage": (100, 122),
    "supply.loaded_current": (1, 14),
    "site.wired": (1925, 2024),
    "site.dwelling_units": (1, 3),
    "box.volume": (8, 40),
    "box.depth": (0.5, 3.5),
    "box.extensions": (3, 8),
    "box.support_limit": (5, 100),
    "box.terminal_blocks": (0, 2),
    "box.devices.gangs": (1, 2),
    "box.fixture_wires.count": (2, 5),
    "box.unbroken.count": (1, 4),
    "cable.length": (3, 120),
    "cable.conductors": (2, 3),
    "cable.conductor_temperature": (20, 90),
    "cable.ambient": (15, 65),
    "cable.bundled_with": (0, 6),
    "cable.current_carrying": (2, 24),
    "cable.edge_distance": (0, 3),
    "cable.support_spacing": (1, 8),
    "cable.support_from_box": (4, 24),
    "cable.free_length": (2, 12),
    "cable.sealed_hole_with": (0, 4),
    "load.quantity": (1, 4),
    "load.power": (5, 250),
    "load.apparent": (5, 250),
    "load.current": (0.05, 3),
    "load.fitted": (3, 60),
    "load.power_factor": (0.5, 1),
    "load.min_voltage": (100, 117),
    "load.weight": (1, 60),
    "load.through_wiring_count": (2, 12),
    "load.closet_distance": (2, 18),
    "load.height_over_bath": (4, 10),
    "load.combustible_distance": (0, 24),
    "load.combustible_clearance": (0, 24),
    "control.rated_led": (20, 300),
    "control.rated_incandescent": (150, 1000),
    "control.min_load": (2, 50),
    "control.max_lamps": (1, 12),
    "driver.output_power": (10, 150),
    "driver.input_current": (0.1, 1.6),
    "driver.efficiency": (0.75, 0.95),
    "driver.power_factor": (0.5, 1),
    "driver.input_power": (10, 180),
    "driver.min_voltage": (100, 117),
    "driver.min_load": (1, 20),
    "low_voltage_load.power": (2, 40),
    "low_voltage_load.power_per_length": (1, 6),
    "low_voltage_load.length": (2, 16),
    "low_voltage_load.resistance_per_length": (0.005, 0.06),
    "low_voltage_load.min_voltage": (9, 23.5),
    "framing.depth": (2.5, 11.25),
    "framing.diameter": (0.25, 2.5),
    "framing.edge_distance": (0.25, 4),
    "framing.notch_depth": (0.1, 2),
    "framing.notch_length": (0.5, 8),
}

#: ``section.key`` -> the numbers that labels print; most draws take one of these.
PRINTED: Mapping[str, Sequence[tuple[float, float]]] = {
    "supply.voltage": ((120, 30), (115, 1), (240, 1), (125, 1)),
    "supply.breaker": ((15, 10), (20, 8), (10, 2), (25, 1), (30, 1)),
    "supply.terminals": ((60, 3), (75, 3), (90, 1)),
    "supply.poles": ((1, 4), (2, 2)),
    "cable.insulation_temperature": ((60, 2), (75, 1), (90, 3)),
    "load.supply_temperature": ((60, 2), (75, 2), (90, 3), (105, 1)),
    "driver.output_voltage": ((12, 3), (24, 4), (48, 1)),
}

#: ``section.key`` -> words that are met more often than the others.
WORDS: Mapping[str, Sequence[tuple[str, float]]] = {
    "supply.serves": (("general lighting", 6),),
    "supply.device": (("breaker", 4), ("fuse", 1)),
    "cable.type": (("NM-B", 6), ("NM", 2), ("AC", 1), ("MC", 1), ("THHN in raceway", 1), ("UF-B", 1)),
    "cable.size": (("14 AWG", 8), ("12 AWG", 6), ("10 AWG", 1)),
    "cable.material": (("copper", 8), ("aluminum", 1), ("copper-clad aluminum", 1)),
    "load.kind": (("light", 6), ("receptacle", 2), ("fan", 1), ("heater", 1)),
    "load.connection": (("hardwired", 6), ("cord", 1)),
    "load.through_wiring_size": (("14 AWG", 2), ("12 AWG", 2)),
    "box.fixture_ground": (("18 AWG", 3), ("16 AWG", 2), ("14 AWG", 1)),
    "box.devices.size": (("14 AWG", 3), ("12 AWG", 2)),
    "box.fixture_wires.size": (("18 AWG", 4), ("16 AWG", 2), ("14 AWG", 1)),
    "box.unbroken.size": (("14 AWG", 3), ("12 AWG", 2)),
    "low_voltage.type": (("class 2 cable", 6), ("NM-B", 1), ("low-voltage strip lead", 2), ("lamp cord", 1)),
    "low_voltage.size": (("18 AWG", 5), ("16 AWG", 3), ("14 AWG", 2), ("0.75 mm^2", 1)),
    "low_voltage.material": (("copper", 12), ("copper-clad aluminum", 1)),
}
