"""The parts of a circuit in which every entry is known: floats in SI, words, yes or no, as rules see them.

Made by ``making/make_parts.py`` from the keys of the file and ``tables/possible/``; do not edit it by hand. ``None``
means that the circuit has no such thing (a reading that nobody took, a mark that is not there), never unknown.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from circuitcheck.circuit.model import Device, FixtureWires, OtherCable, Unbroken
from circuitcheck.circuit.part import Part as Part


@dataclass(frozen=True, eq=False, kw_only=True)
class Job(Part):
    """The job. The keys are those of the file."""

    section: ClassVar[str] = "job"

    title: str
    rulebook: str
    place: str | None
    prepared_by: str | None
    date: str | None


@dataclass(frozen=True, eq=False, kw_only=True)
class Supply(Part):
    """The circuit at the panel. The keys are those of the file."""

    section: ClassVar[str] = "supply"

    voltage_v: float
    breaker_a: float
    measured_voltage_v: float | None
    device: str
    protection: str
    serves: str
    shared_neutral: bool | None
    terminals_c: float
    impedance_ohm: float | None
    panel: str | None
    slot: str | None
    poles: int
    handle_tie: bool
    fuse_type: str
    measured_current_a: float | None
    other_leg_current_a: float | None
    volts_between_hots_v: float | None
    loaded_voltage_v: float | None
    loaded_current_a: float | None
    loaded_at: str | None
    loads_complete: bool


@dataclass(frozen=True, eq=False, kw_only=True)
class Site(Part):
    """The place and who does the work. The keys are those of the file."""

    section: ClassVar[str] = "site"

    room: str
    dwelling: bool
    wired: int
    owner_occupied: bool
    dwelling_units: int
    work_by: str
    permit: str
    attic_access: str
    garage_bays: int
    stair_risers: int
    signs: tuple[str, ...] | None


@dataclass(frozen=True, eq=False, kw_only=True)
class Box(Part):
    """Box. The keys are those of the file."""

    section: ClassVar[str] = "box"

    id: str
    origin: str
    trade_size: str | None
    volume_m3: float | None
    depth_m: float | None
    internal_clamps: bool
    fittings: tuple[str, ...]
    devices: tuple[Device, ...]
    fixture_wires: tuple[FixtureWires, ...]
    fixture_ground: str | None
    canopy: bool
    terminal_blocks: int
    unbroken: tuple[Unbroken, ...]
    other_cables: tuple[OtherCable, ...]
    gangs: int
    extensions_m3: tuple[float, ...]
    material: str
    mounting: str
    made_for: str
    fan_could_hang: bool
    support_limit_kg: float | None
    room: str
    location: str
    ground: bool | None
    bonded: bool
    neutral: bool
    reachable: bool
    covered: bool
    class_2_barrier: bool
    product: str | None


@dataclass(frozen=True, eq=False, kw_only=True)
class Cable(Part):
    """Cable. The keys are those of the file."""

    section: ClassVar[str] = "cable"

    id: str
    from_id: str
    to_id: str
    origin: str
    type: str
    size: str
    conductors: int
    ground: bool
    material: str
    stranding: str
    length_m: float
    conductor_temperature_c: float
    place: str
    ambient_c: float
    bundled_with: int
    current_carrying: int | None
    insulation_temperature_c: float | None
    sheath: str
    carries: str
    switched_by: str | None
    white_remarked: bool
    run: str
    concealed: bool
    exposed_to_damage: bool
    plates: bool
    edge_distance_m: float
    support_spacing_m: float
    support_from_box_m: float
    free_length_m: float
    guard_strips: bool
    near_hatch: bool
    in_insulation: bool
    wet_marked: bool
    air_space: str
    plenum_marked: bool
    sealed_hole_with: int
    product: str | None


@dataclass(frozen=True, eq=False, kw_only=True)
class Load(Part):
    """Load. The keys are those of the file."""

    section: ClassVar[str] = "load"

    id: str
    box: str
    origin: str
    kind: str
    fan: str | None
    quantity: int
    power_w: float | None
    apparent_va: float | None
    current_a: float | None
    fitted_w: float | None
    power_factor: float
    continuous: bool
    min_voltage_v: float | None
    connection: str
    grounding: str
    weight_kg: float
    mounting: str
    lamp: str
    enclosed: bool
    listed: bool
    location_marked: str
    metal_parts: bool
    converted: bool
    hardwire_in_instructions: bool
    replaces: bool
    own_switch: bool
    tamper_resistant: bool
    out_of_reach: bool
    ground_fault: bool
    switched_by: str | None
    supply_temperature_c: float
    insulation_contact: bool
    in_insulation: bool
    through_wiring_count: int
    through_wiring_size: str | None
    closet_distance_m: float
    closet_marked: bool
    over_bath: bool
    height_over_bath_m: float
    in_spray: bool
    on_at_reading: bool
    combustible_distance_m: float
    combustible_clearance_m: float | None
    product: str | None


@dataclass(frozen=True, eq=False, kw_only=True)
class Driver(Part):
    """Driver or transformer. The keys are those of the file."""

    section: ClassVar[str] = "driver"

    id: str
    box: str
    origin: str
    output_voltage_v: float
    output_kind: str
    output_power_w: float
    outputs: int | None
    input_current_a: float | None
    efficiency: float | None
    power_factor: float
    class_2: bool
    continuous: bool
    input_power_w: float | None
    min_voltage_v: float | None
    min_load_w: float | None
    paralleled_with: str | None
    reachable: bool
    in_insulation: bool
    switched_by: str | None
    dimming: str
    listed: bool
    location_marked: str
    product: str | None


@dataclass(frozen=True, eq=False, kw_only=True)
class LowVoltageLoad(Part):
    """Low-voltage light. The keys are those of the file."""

    section: ClassVar[str] = "low_voltage_load"

    id: str
    origin: str
    power_w: float | None
    power_per_length_w_per_m: float | None
    length_m: float | None
    resistance_per_length_ohm_per_m: float | None
    fed_from: str
    min_voltage_v: float | None
    kind: str
    room: str
    location: str
    mounting: str
    enclosed: bool
    listed: bool
    location_marked: str
    closet_distance_m: float
    closet_marked: bool
    over_bath: bool
    height_over_bath_m: float
    in_spray: bool
    product: str | None


@dataclass(frozen=True, eq=False, kw_only=True)
class Control(Part):
    """Switch, dimmer or sensor. The keys are those of the file."""

    section: ClassVar[str] = "control"

    id: str
    box: str
    origin: str
    kind: str
    ways: str
    rated_led_w: float
    rated_incandescent_w: float
    min_load_w: float | None
    max_lamps: int | None
    needs_neutral: bool
    matched: bool
    with_id: str | None
    product: str | None


@dataclass(frozen=True, eq=False, kw_only=True)
class Framing(Part):
    """Hole or notch in framing. The keys are those of the file."""

    section: ClassVar[str] = "framing"

    id: str
    cable: str | None
    origin: str
    member: str
    bearing: bool
    doubled: bool
    depth_m: float
    cut: str
    diameter_m: float | None
    edge_distance_m: float
    notch_depth_m: float | None
    notch_length_m: float | None
    in_middle_third: bool
    plates: bool
