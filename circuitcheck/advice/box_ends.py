"""Every end in a box: conductors of its cables, wires and terminals of what is mounted in it, the box's own ground."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from circuitcheck.advice.carrying import SWITCHES, Carried
from circuitcheck.advice.colors import Color, colors_of
from circuitcheck.advice.joints import End, EndKind
from circuitcheck.advice.nets import GROUND, HOT, NEUTRAL, Net, switched, untold
from circuitcheck.advice.switching import FOUR_WAY, THREE_WAY, Switching
from circuitcheck.circuit.model import Box, Cable, Circuit, Control, Device, Driver, Load

#: A luminaire that hangs on one circuit has a hot and a neutral wire.
WIRES_EACH = 2

#: Terminals of a switch besides its ground screw, in the order of its nets.
SIDES = {
    THREE_WAY: ("common", "traveler", "traveler"),
    FOUR_WAY: ("one pair", "one pair", "other pair", "other pair"),
}

#: Kinds of controls that may do without a neutral unless the file says otherwise.
WITHOUT_NEUTRAL = (None, "switch", "dimmer")

#: The part that the green screw or clip of a metal box belongs to.
THE_BOX = "the metal box"

#: The ground of a cable: bare in nonmetallic cable, green elsewhere.
BARE = Color("bare or green")

#: Luminaire leads are copper; the file has no key for their metal.
LEAD_METAL = "copper"


def ends_in(box: Box, circuit: Circuit, carried: Mapping[str, Carried], switching: Switching) -> list[End]:
    """Every end in the box, cables first."""
    return list(_BoxEnds(box, circuit, carried, switching).ends())


class _BoxEnds:
    def __init__(self, box: Box, circuit: Circuit, carried: Mapping[str, Carried], switching: Switching) -> None:
        tree = circuit.tree
        self.box = box
        self.carried = carried
        self.switching = switching
        self.cables = [cable for cable in tree.cables_at.get(box.id, ()) if cable.id in carried]
        self.controls = switching.controls_at.get(box.id, ())
        self.loads = [load for load in tree.loads_at.get(box.id, ()) if is_wired(load)]
        self.drivers = tree.drivers_at.get(box.id, ())
        self.is_new = box.is_added

    def ends(self) -> Iterator[End]:
        """Cables, switches, other devices, luminaires, drivers, grounds."""
        for cable in self.cables:
            yield from cable_ends(cable, self.carried[cable.id])
        for control in self.controls:
            yield from self._control(control)
        yield from self._devices()
        yield from self._luminaires()
        yield from self._box_ground()

    def _control(self, control: Control) -> Iterator[End]:
        """The terminals of a switch, the ground screw of its yoke included."""
        part = f"{control.kind or 'switch'} {control.id}"
        added = control.is_added
        plain = End(EndKind.TERMINAL, part, HOT, added=added, key=str(control.entry("with")), device=control.id)
        if control.ways in SIDES:
            nets = self.switching.terminals_of.get(control.id) or self._open_terminals(control)
            for net, side in zip(nets, SIDES[control.ways or ""], strict=True):
                yield replace(plain, part=f"{part}, {side}", net=net, feeds=net.told and net != HOT)
        else:
            line = replace(plain, part=f"{part}, supply side", net=self._line_side())
            name = self.switching.name_of[control.id]
            yield line
            yield replace(plain, part=f"{part}, switched side", net=switched(name), feeds=True)
        sure = bool(control.needs_neutral)
        if sure or (control.needs_neutral is None and control.kind not in WITHOUT_NEUTRAL):
            yield replace(plain, kind=EndKind.LEAD, part=f"{part}, neutral", net=NEUTRAL, perhaps=not sure)
        for end in self._yoke_ground(part, plain.added):
            yield replace(end, device=control.id)

    def _open_terminals(self, control: Control) -> tuple[Net, ...]:
        why = self.switching.open_sets.get(control.id, "which other switch it works with is not given")
        return (untold(why),) * len(SIDES[control.ways or ""])

    def _line_side(self) -> Net:
        """What a single-pole switch interrupts: always hot, or what another switch before it lets through."""
        if HOT in self._ungrounded_in_cables():
            return HOT
        own = {self.switching.name_of[one.id] for one in self.controls}
        incoming = [cable for cable in self.cables if cable.to_id == self.box.id]
        feed = [net for net in self._ungrounded_in_cables(incoming) if net.of not in own]
        return feed[0] if len(feed) == 1 else untold("what feeds the switch is unknown")

    def _devices(self) -> Iterator[End]:
        """Receptacles, and switches that the file lists as bodies only."""
        bodies = [device for device in self.box.devices or () if device.kind in SWITCHES]
        why = untold("the file lists it as a body in the box only, and not as a control")
        for device in bodies[len(self.controls) :]:
            for side in ("supply side", "switched side"):
                part = f"{device.kind}, {side}"
                yield End(EndKind.TERMINAL, part, why, added=self.is_new, key=str(self.box.entry("devices")))
            yield from self._yoke_ground(device.kind, self.is_new)
        for device in self.box.devices or ():
            if device.kind not in SWITCHES:
                yield from self._receptacle(device)

    def _receptacle(self, device: Device) -> Iterator[End]:
        plain = End(EndKind.TERMINAL, device.kind, HOT, added=self.is_new, key=str(self.box.entry("devices")))
        if device.kind == "receptacle":
            yield replace(plain, net=self._hot_for(None))
            yield replace(plain, net=NEUTRAL)
        else:
            yield replace(plain, net=untold("the device's instructions say what it connects to"))
        yield from self._yoke_ground(device.kind, self.is_new)

    def _luminaires(self) -> Iterator[End]:
        """The wires of each luminaire and driver where the file counts them, else its terminals or leads.

        The file counts the leads of a driver among the luminaire wires of its box.
        """
        wires: list[str | None] = [one.size for one in self.box.fixture_wires or () for _ in range(one.count)]
        with_drivers = bool(self.drivers) and len(wires) == WIRES_EACH * (len(self.loads) + len(self.drivers))
        pairs = 1 if with_drivers else self._pairs(len(wires))
        if wires and not pairs:
            of_each = "luminaire" if not self.drivers else "luminaire and driver"
            why = untold(f"{len(wires)} luminaire wires do not come out at a hot and a neutral for each {of_each}")
            added = any(load.is_added for load in self.loads) or any(one.is_added for one in self.drivers)
            key = str(self.box.entry("fixture_wires"))
            for size in wires:
                yield End(EndKind.LEAD, "luminaire", why, size, LEAD_METAL, added=added, key=key)
        for load in self.loads:
            plain = End(
                EndKind.TERMINAL,
                load.id,
                self._hot_for(load.switched_by),
                added=load.is_added,
                key=str(load.entry("switched_by")),
            )
            if not wires:
                yield plain
                yield replace(plain, net=NEUTRAL)
            for _ in range(pairs):
                lead = replace(plain, kind=EndKind.LEAD, metal=LEAD_METAL)
                yield replace(lead, size=wires.pop())
                yield replace(lead, size=wires.pop(), net=NEUTRAL)
            yield from self._luminaire_ground(load)
        for driver in self.drivers:
            # A list that does not come out even holds the driver's leads where there is no luminaire to hold others.
            if self.loads or pairs or not wires:
                yield from self._driver(driver, [wires.pop(), wires.pop()] if with_drivers else [None] * WIRES_EACH)
            yield self._driver_ground(driver)

    def _pairs(self, wires: int) -> int:
        """How many pairs of wires each luminaire in the box has; zero where the count does not come out even."""
        if len(self.loads) == 1 and wires % WIRES_EACH == 0:
            return wires // WIRES_EACH
        return 1 if wires and wires == WIRES_EACH * len(self.loads) else 0

    def _luminaire_ground(self, load: Load) -> Iterator[End]:
        if load.grounding not in ("none", "double-insulated"):
            size = self._fixture_ground()
            sure = load.grounding == "wire" or size is not None
            yield End(EndKind.LEAD, load.id, GROUND, size, LEAD_METAL, added=load.is_added, perhaps=not sure)

    def _driver(self, driver: Driver, sizes: Sequence[str | None]) -> Iterator[End]:
        plain = End(EndKind.LEAD, driver.id, self._hot_for(None), metal=LEAD_METAL, added=driver.is_added)
        for size, net in zip(sizes, (plain.net, NEUTRAL), strict=True):
            yield replace(plain, size=size, net=net)

    def _driver_ground(self, driver: Driver) -> End:
        size, added = self._fixture_ground(), driver.is_added
        return End(EndKind.LEAD, driver.id, GROUND, size, LEAD_METAL, added=added, perhaps=size is None)

    def _fixture_ground(self) -> str | None:
        """The size of the luminaire's own ground wire, where it is known to have one."""
        return None if self.box.fixture_ground == "none" else self.box.fixture_ground

    def _hot_for(self, switched_by: str | None) -> Net:
        """What a load hangs on: the switch it names, or the only thing in the box that it could hang on."""
        if switched_by is not None:
            return switched(self.switching.name_of.get(switched_by, switched_by))
        found = dict.fromkeys(self._ungrounded_in_cables())
        found.update((switched(self.switching.name_of[one.id]), None) for one in self.controls)
        if not self._all_told():
            return untold("what could feed it in this box is unknown")
        if not found:
            return untold("nothing in this box is said to be hot")
        if len(found) > 1:
            return untold("which switch turns it off, if any, is not given")
        return next(iter(found))

    def _all_told(self) -> bool:
        nets = [self.carried[cable.id].nets for cable in self.cables]
        return all(of_cable is not None and all(net.told for net in of_cable) for of_cable in nets)

    def _ungrounded_in_cables(self, cables: list[Cable] | None = None) -> list[Net]:
        chosen = self.cables if cables is None else cables
        return [net for cable in chosen for net in self.carried[cable.id].nets or () if net.ungrounded]

    def _yoke_ground(self, part: str, added: bool) -> Iterator[End]:
        if any(cable.ground is not False for cable in self.cables):
            yield End(EndKind.TERMINAL, part, GROUND, added=added)

    def _box_ground(self) -> Iterator[End]:
        """The green screw or clip of a metal box."""
        if self.box.material != "nonmetallic" and any(cable.ground is not False for cable in self.cables):
            perhaps = self.box.material is None
            yield End(EndKind.TERMINAL, THE_BOX, GROUND, added=self.is_new, perhaps=perhaps)


def cable_ends(cable: Cable, carried: Carried) -> Iterator[End]:
    """The ends of one cable: insulated conductors, then its ground."""
    plain = End(EndKind.CABLE, cable.id, GROUND, cable.size, cable.material, cable.id, cable.is_added)
    if carried.nets is None:
        why = untold("how many conductors it has is not known")
        yield replace(plain, net=why, key=str(cable.entry("conductors")))
    nets = carried.nets or ()
    for net, color in zip(nets, colors_of(nets), strict=True):
        yield replace(plain, net=net, key=str(cable.entry("carries")), color=color)
    if cable.ground is not False:
        yield replace(plain, perhaps=cable.ground is None, color=BARE)


def is_wired(load: Load) -> bool:
    """Whether a load's own wires are joined in the box: not what plugs in at a receptacle."""
    return load.kind != "receptacle" and load.connection != "cord"
