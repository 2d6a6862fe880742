"""The circuit as the rules see it: frozen, SI floats, every unknown left as None.

A physical value is an ``Interval`` in the SI unit that its name carries; text keys hold the file's own words.
``None`` means *unknown*: the file does not say. An empty list and zero mean that there is none.
``circuit/entries.py`` holds the same keys as the file spells them; a test holds the two together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from circuitcheck.circuit.box_contents import Device as Device
from circuitcheck.circuit.box_contents import FixtureWires as FixtureWires
from circuitcheck.circuit.box_contents import OtherCable as OtherCable
from circuitcheck.circuit.box_contents import Unbroken as Unbroken
from circuitcheck.circuit.change import AsFound, Change
from circuitcheck.circuit.part import Part
from circuitcheck.circuit.topology import Tree, build_tree
from circuitcheck.quantities import Interval

PANEL = "panel"


@dataclass(frozen=True, slots=True, kw_only=True)
class Job(Part):
    """What the user is about to do, and under which rulebook."""

    title: str
    rulebook: str
    place: str | None = None
    prepared_by: str | None = None
    date: str | None = None
    known_by: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply(Part):
    """The branch circuit where it leaves the panel. Voltages [V], breaker [A], impedance [ohm], terminals [degC].

    ``handle_tie``: the breakers of a multiwire circuit open together. ``measured_current_a``: a clamp reading with
    everything on. ``loaded_voltage_v``: voltage at the last outlet while ``loaded_current_a`` flows there;
    ``loaded_at`` the id of the box where that was read. ``loads_complete``: the house was walked with the breaker off,
    and whatever was dead is listed.
    """

    voltage_v: Interval
    breaker_a: Interval
    measured_voltage_v: Interval | None = None
    device: str | None = None
    protection: str | None = None
    serves: str | None = None
    shared_neutral: bool | None = None
    terminals_c: Interval | None = None
    impedance_ohm: Interval | None = None
    panel: str | None = None
    slot: str | None = None
    poles: int | None = None
    handle_tie: bool | None = None
    fuse_type: str | None = None
    measured_current_a: Interval | None = None
    other_leg_current_a: Interval | None = None
    volts_between_hots_v: Interval | None = None
    loaded_voltage_v: Interval | None = None
    loaded_current_a: Interval | None = None
    loaded_at: str | None = None
    loads_complete: bool | None = None
    known_by: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Site(Part):
    """Where the added work is, who does it, and what was seen there. ``signs`` is None when nobody has looked."""

    room: str | None = None
    dwelling: bool | None = None
    wired: int | None = None
    owner_occupied: bool | None = None
    dwelling_units: int | None = None
    work_by: str | None = None
    permit: str | None = None
    attic_access: str | None = None
    garage_bays: int | None = None
    stair_risers: int | None = None
    signs: tuple[str, ...] | None = None
    known_by: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Box(Part):
    """A box. ``volume_m3`` is the marked volume; ``extensions_m3`` the marked volumes of rings and covers; ``depth_m``
    the depth inside.

    ``fixture_ground``: a size, or "none". ``gangs``: of a box whose table volume is for each gang.
    ``ground``: an equipment ground arrives in it; ``bonded``: a metal box is joined to it; ``neutral``: a grounded
    conductor is there; ``mounting``: framing, retrofit (held by the wall finish) …; ``location``: dry, damp, wet.
    """

    id: str
    origin: str | None = None
    trade_size: str | None = None
    volume_m3: Interval | None = None
    depth_m: Interval | None = None
    internal_clamps: bool | None = None
    fittings: tuple[str, ...] | None = None
    devices: tuple[Device, ...] | None = None
    fixture_wires: tuple[FixtureWires, ...] | None = None
    fixture_ground: str | None = None
    canopy: bool | None = None
    terminal_blocks: int | None = None
    unbroken: tuple[Unbroken, ...] | None = None
    other_cables: tuple[OtherCable, ...] | None = None
    gangs: int | None = None
    extensions_m3: tuple[Interval, ...] | None = None
    material: str | None = None
    mounting: str | None = None
    made_for: str | None = None
    fan_could_hang: bool | None = None
    support_limit_kg: Interval | None = None
    room: str | None = None
    location: str | None = None
    ground: bool | None = None
    bonded: bool | None = None
    neutral: bool | None = None
    reachable: bool | None = None
    covered: bool | None = None
    class_2_barrier: bool | None = None
    product: str | None = None
    known_by: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable(Part):
    """A run of cable. ``from_id`` is the upstream end, ``to_id`` the downstream one. ``size`` as text (``14 AWG``).

    ``carries``: feed, switched, switch loop, travelers; ``switched_by``: id of the control that switches it.
    ``run``: through framing, along framing, across framing … ``free_length_m``: conductor left free at the box.
    ``sealed_hole_with``: other cables that share one sealed hole in framing with it.
    """

    id: str
    from_id: str
    to_id: str
    origin: str | None = None
    type: str | None = None
    size: str | None = None
    conductors: int | None = None
    ground: bool | None = None
    material: str | None = None
    stranding: str | None = None
    length_m: Interval | None = None
    conductor_temperature_c: Interval | None = None
    place: str | None = None
    ambient_c: Interval | None = None
    bundled_with: int | None = None
    current_carrying: int | None = None
    insulation_temperature_c: Interval | None = None
    sheath: str | None = None
    carries: str | None = None
    switched_by: str | None = None
    white_remarked: bool | None = None
    run: str | None = None
    concealed: bool | None = None
    exposed_to_damage: bool | None = None
    plates: bool | None = None
    edge_distance_m: Interval | None = None
    support_spacing_m: Interval | None = None
    support_from_box_m: Interval | None = None
    free_length_m: Interval | None = None
    guard_strips: bool | None = None
    near_hatch: bool | None = None
    in_insulation: bool | None = None
    wet_marked: bool | None = None
    air_space: str | None = None
    plenum_marked: bool | None = None
    sealed_hole_with: int | None = None
    product: str | None = None
    known_by: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Load(Part):
    """A load on the branch circuit. One of ``power_w``, ``apparent_va``, ``current_a`` is given, or none is known.

    All three are for one piece; ``quantity`` multiplies. ``converted``: made to plug in, its plug cut off;
    ``hardwire_in_instructions``: the maker's instructions tell how to wire it in. ``own_switch``: a pull chain or
    switch on the light itself. ``in_spray``: water from the shower head reaches it. ``insulation_contact``: a
    recessed luminaire marked for contact with insulation. ``through_wiring_count``: how many conductors its own
    wiring box is marked for. ``on_at_reading``: it was on while the panel's current was read.
    ``ground_fault``: a receptacle that protects itself, or stands behind one that does; ``out_of_reach``: more than
    5-1/2 ft above the floor or behind an appliance that stays in its place.
    ``combustible_clearance_m`` is what its label asks for, ``combustible_distance_m`` what it has.
    ``pieces``: the quantity, one where the file does not say.
    """

    id: str
    box: str
    kind: str | None = None
    origin: str | None = None
    fan: str | None = None
    quantity: int | None = None
    power_w: Interval | None = None
    apparent_va: Interval | None = None
    current_a: Interval | None = None
    fitted_w: Interval | None = None
    power_factor: Interval | None = None
    continuous: bool | None = None
    min_voltage_v: Interval | None = None
    connection: str | None = None
    grounding: str | None = None
    weight_kg: Interval | None = None
    mounting: str | None = None
    lamp: str | None = None
    enclosed: bool | None = None
    listed: bool | None = None
    location_marked: str | None = None
    metal_parts: bool | None = None
    converted: bool | None = None
    hardwire_in_instructions: bool | None = None
    replaces: bool | None = None
    own_switch: bool | None = None
    tamper_resistant: bool | None = None
    out_of_reach: bool | None = None
    ground_fault: bool | None = None
    switched_by: str | None = None
    supply_temperature_c: Interval | None = None
    insulation_contact: bool | None = None
    in_insulation: bool | None = None
    through_wiring_count: int | None = None
    through_wiring_size: str | None = None
    closet_distance_m: Interval | None = None
    closet_marked: bool | None = None
    over_bath: bool | None = None
    height_over_bath_m: Interval | None = None
    in_spray: bool | None = None
    on_at_reading: bool | None = None
    combustible_distance_m: Interval | None = None
    combustible_clearance_m: Interval | None = None
    product: str | None = None
    known_by: Mapping[str, str] = field(default_factory=dict)

    @property
    def pieces(self) -> int:
        """How many it stands for; one where the file does not say."""
        return 1 if self.quantity is None else self.quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver(Part):
    """A driver (or transformer) that supplies low-voltage lights from the branch circuit."""

    id: str
    box: str
    origin: str | None = None
    output_voltage_v: Interval | None = None
    output_kind: str | None = None
    output_power_w: Interval | None = None
    outputs: int | None = None
    input_current_a: Interval | None = None
    efficiency: Interval | None = None
    power_factor: Interval | None = None
    class_2: bool | None = None
    continuous: bool | None = None
    input_power_w: Interval | None = None
    min_voltage_v: Interval | None = None
    min_load_w: Interval | None = None
    paralleled_with: str | None = None
    reachable: bool | None = None
    in_insulation: bool | None = None
    switched_by: str | None = None
    dimming: str | None = None
    listed: bool | None = None
    location_marked: str | None = None
    product: str | None = None
    known_by: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class LowVoltageLoad(Part):
    """A light behind a driver: at one point (``power_w``) or along ``length_m`` (``power_per_length_w_per_m``)."""

    id: str
    origin: str | None = None
    power_w: Interval | None = None
    power_per_length_w_per_m: Interval | None = None
    length_m: Interval | None = None
    resistance_per_length_ohm_per_m: Interval | None = None
    fed_from: str | None = None
    min_voltage_v: Interval | None = None
    kind: str | None = None
    room: str | None = None
    location: str | None = None
    mounting: str | None = None
    enclosed: bool | None = None
    listed: bool | None = None
    location_marked: str | None = None
    closet_distance_m: Interval | None = None
    closet_marked: bool | None = None
    over_bath: bool | None = None
    height_over_bath_m: Interval | None = None
    in_spray: bool | None = None
    product: str | None = None
    known_by: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Control(Part):
    """A switch, dimmer or sensor as it works (its body in the box is one of the box's ``devices``).

    ``ways``: single-pole, three-way, four-way. ``with_id``: the other control of a three-way pair.
    """

    id: str
    box: str
    kind: str | None = None
    origin: str | None = None
    ways: str | None = None
    rated_led_w: Interval | None = None
    rated_incandescent_w: Interval | None = None
    min_load_w: Interval | None = None
    max_lamps: int | None = None
    needs_neutral: bool | None = None
    matched: bool | None = None
    with_id: str | None = None
    product: str | None = None
    known_by: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Framing(Part):
    """A hole or notch in a stud, plate, joist or rafter. ``depth_m`` is the member's actual width or depth."""

    id: str
    cable: str | None = None
    origin: str | None = None
    member: str | None = None
    bearing: bool | None = None
    doubled: bool | None = None
    depth_m: Interval | None = None
    cut: str | None = None
    diameter_m: Interval | None = None
    edge_distance_m: Interval | None = None
    notch_depth_m: Interval | None = None
    notch_length_m: Interval | None = None
    in_middle_third: bool | None = None
    plates: bool | None = None
    known_by: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Circuit:
    """One branch circuit and all that hangs on it.

    The file may be written in short forms. ``reasons``: key path of an entry that was spelled out -> where it comes
    from (``as wall 1``). ``written_in``: path of a part (``box.wall 1 box``) -> of the table that stands for it
    (``light.wall 1``). Neither is part of the circuit itself.

    ``changes``: what the work does to parts that are there. The parts stand as found; ``planning.as_planned`` carries
    the changes out, and then ``before`` holds what was found.
    """

    file: str
    job: Job
    supply: Supply
    site: Site = field(default_factory=Site)
    boxes: tuple[Box, ...] = ()
    cables: tuple[Cable, ...] = ()
    loads: tuple[Load, ...] = ()
    drivers: tuple[Driver, ...] = ()
    low_voltage_loads: tuple[LowVoltageLoad, ...] = ()
    controls: tuple[Control, ...] = ()
    framing: tuple[Framing, ...] = ()
    changes: tuple[Change, ...] = ()
    before: AsFound[Circuit] | None = field(default=None, compare=False, repr=False)
    reasons: Mapping[str, str] = field(default_factory=dict, compare=False, repr=False)
    written_in: Mapping[str, str] = field(default_factory=dict, compare=False, repr=False)

    @cached_property
    def tree(self) -> Tree:
        """How the parts hang together, changes carried out; see ``Tree``.

        Raises: ValueError on a circuit that the reader would refuse.
        """
        if self.changes and self.before is None:
            from circuitcheck.circuit.planning import as_planned

            return as_planned(self).tree
        return build_tree(self)

    @cached_property
    def worked_out(self) -> dict[object, tuple[object, object]]:
        """Room beside the circuit for results that several rules share; empty in every changed copy."""
        return {}
