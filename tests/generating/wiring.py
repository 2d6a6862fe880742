"""How the parts of a generated circuit hang together: the branch, its switches, and what lies behind drivers."""

from __future__ import annotations

from typing import Any

from tests.generating.dice import Dice, Shares

_ODD_NAMES = ("box.1", "Dach-Boden", 'the "old" one', "length", "a.b.c", "cable.x.length", "°", "x" * 40, "supply")


class Wiring:
    """The parts of one circuit with nothing but their names, ends, and what follows from the wiring."""

    def __init__(self, dice: Dice, shares: Shares) -> None:
        self.dice = dice
        self.shares = shares
        self.parts: dict[str, list[dict[str, Any]]] = {
            name: [] for name in ("box", "cable", "load", "driver", "low_voltage_load", "control", "framing")
        }
        self.supply: dict[str, Any] = {}
        self._names: set[str] = set()
        self._added_from = 0

    def draw(self) -> None:
        """Draw everything."""
        often = self.dice.often
        multiwire = often(0.12)
        self._branch(self.dice.weighted([(1, 3), (2, 4), (3, 4), (4, 3), (5, 2), (7, 1)]), multiwire)
        if multiwire:
            self.supply |= {"shared_neutral": True, "poles": self.dice.of((1, 1, 2)), "handle_tie": often(0.5)}
        if often(0.35):
            self._switch_before()
        if often(0.25):
            self._switch_loop()
        if often(0.2):
            self._three_way(four=often(0.3))
        self._loads()
        if often(self.shares.readings):
            self.supply["loaded_at"] = self._any_box()["id"]
        for _ in range(self.dice.weighted([(0, 6), (1, 3), (2, 1)])):
            self._driver()
        drivers = self.parts["driver"]
        if len(drivers) > 1 and often(0.4):
            drivers[0]["paralleled_with"], drivers[1]["paralleled_with"] = drivers[1]["id"], drivers[0]["id"]
        for _ in range(self.dice.weighted([(0, 5), (1, 3), (2, 1)])):
            cable = self.dice.of(self.parts["cable"])
            self._add("framing", "hole", cable=cable["id"], origin=cable["origin"])

    # ------------------------------------------------------------------------------------------------ small things

    def _name(self, word: str) -> str:
        name = f"{word} {len(self._names) + 1}"
        if self.dice.often(0.1 * self.shares.odd):
            name = self.dice.of(_ODD_NAMES)
        while name in self._names:
            name += "'"
        self._names.add(name)
        return name

    def _add(self, section: str, word: str, **wired: Any) -> dict[str, Any]:
        part = {"id": self._name(word), **wired}
        self.parts[section].append(part)
        return part

    def _box(self, origin: str | None = None, **wired: Any) -> dict[str, Any]:
        return self._add("box", "box", origin=origin or self.dice.of(("existing", "added")), **wired)

    def _cable(self, start: str, end: str, origin: str, **wired: Any) -> dict[str, Any]:
        return self._add("cable", "run", **{"from": start}, to=end, origin=origin, **wired)

    def _device(self, box: dict[str, Any], kind: str) -> None:
        size = {"size": self.dice.of(("14 AWG", "12 AWG"))} if self.dice.often(0.5) else {}
        box.setdefault("devices", []).append({"kind": kind, "gangs": self.dice.of((1, 1, 1, 2)), **size})

    def _any_box(self) -> dict[str, Any]:
        return self.dice.of(self.parts["box"])

    # -------------------------------------------------------------------------------------------------- the branch

    def _branch(self, count: int, multiwire: bool) -> None:
        """Boxes in a tree behind the panel; what stands later in the list is more often to be added."""
        existing = self.dice.whole(0, count)
        for number in range(count):
            origin = "existing" if number < existing else "added"
            if self.dice.often(0.05):
                origin = self.dice.of(("existing", "added"))
            boxes = self.parts["box"]
            start = "panel" if not boxes or self.dice.often(0.08) else self.dice.of(boxes[-3:])["id"]
            box = self._box(origin)
            wired: dict[str, Any] = {"carries": "feed"}
            if multiwire:
                wired["conductors"] = 3
            self._cable(start, box["id"], "added" if origin == "added" else "existing", **wired)

    def _control(self, box: dict[str, Any], **wired: Any) -> dict[str, Any]:
        kind = self.dice.weighted([("switch", 4), ("dimmer", 4), ("sensor", 1), ("timer", 1), ("smart switch", 1)])
        device = kind if kind in ("switch", "dimmer", "sensor", "timer") else "switch"
        self._device(box, device)
        return self._add("control", "switch", box=box["id"], origin=box["origin"], kind=kind, **wired)

    def _switch_before(self) -> None:
        """A switch in a box on the way: what leaves it is switched."""
        box = self._any_box()
        control = self._control(box, ways="single-pole")
        for cable in self.parts["cable"]:
            if cable["from"] == box["id"] and self.dice.often(0.7):
                cable |= {"carries": self.dice.of(("switched", "switched", "feed and switched"))}
                cable["switched_by"] = control["id"]

    def _switch_loop(self) -> None:
        """A switch at the end of a cable that goes down from a light."""
        light = self._any_box()
        box = self._box(light["origin"])
        control = self._control(box, ways="single-pole")
        self._cable(light["id"], box["id"], box["origin"], carries="switch loop", switched_by=control["id"])
        self._add("load", "lamp", box=light["id"], origin=light["origin"], kind="light", switched_by=control["id"])

    def _three_way(self, four: bool) -> None:
        """Two switches for one light with travelers between, now and then a third between them."""
        first = self._any_box()
        middle = self._box(first["origin"]) if four else None
        last = self._box(first["origin"])
        one = self._control(first, ways="three-way")
        start = first["id"]
        if middle is not None:
            self._control(middle, ways="four-way")
            self._cable(start, middle["id"], middle["origin"], carries="travelers", conductors=3)
            start = middle["id"]
        other = self._control(last, ways="three-way")
        one["with"], other["with"] = other["id"], one["id"]
        self._cable(start, last["id"], last["origin"], carries="travelers", conductors=3)
        light = self._box(last["origin"])
        self._cable(last["id"], light["id"], light["origin"], carries="switched", switched_by=other["id"])
        self._add("load", "lamp", box=light["id"], origin=light["origin"], kind="light", switched_by=one["id"])

    def _loads(self) -> None:
        for _ in range(self.dice.whole(1, 1 + len(self.parts["box"]))):
            box = self._any_box()
            wired: dict[str, Any] = {"box": box["id"], "origin": box["origin"]}
            if self.dice.often(0.15):
                wired["kind"] = "receptacle"
                self._device(box, "receptacle")
            if self.parts["control"] and self.dice.often(0.25):
                wired["switched_by"] = self.dice.of(self.parts["control"])["id"]
            self._add("load", "load", **wired)

    # ---------------------------------------------------------------------------------------------- behind a driver

    def _driver(self) -> None:
        box = self._any_box()
        switched = {}
        if self.parts["control"] and self.dice.often(0.4):
            switched["switched_by"] = self.dice.of(self.parts["control"])["id"]
        driver = self._add("driver", "driver", box=box["id"], origin=box["origin"], **switched)
        shape = self.dice.of(("light", "light", "strip", "strip", "splice", "chain", "both ends", "shared box"))
        origin = driver["origin"]
        if shape == "light":
            self._low_cable(driver["id"], self._light(origin), origin)
        elif shape == "strip":
            strip = self._strip(origin)
            self._low_cable(driver["id"], strip, origin)
            if self.dice.often(0.2):
                self._low_cable(strip, self._light(origin), origin)
        elif shape == "chain":
            start = driver["id"]
            for _ in range(self.dice.whole(2, 3)):
                light = self._light(origin)
                self._low_cable(start, light, origin)
                start = light
        elif shape == "both ends":
            strip = self._strip(origin, fed_from="both ends", _kept=("fed_from",))
            self._low_cable(driver["id"], strip, origin)
            self._low_cable(driver["id"], strip, origin)
        else:
            self._splice(driver["id"], origin, shared=shape == "shared box")

    def _splice(self, driver: str, origin: str, *, shared: bool) -> None:
        """Lights behind a splice, in a box of its own or in one that the branch circuit is in too.

        One of that kind a file: between two the reader cannot know which kind a cable is.
        """
        fed_low = {cable["to"] for cable in self.parts["cable"] if cable.get("_low_voltage")}
        alone = not any(box["id"] in fed_low for box in self.parts["box"])
        box = self._any_box() if shared and alone else self._box(origin)
        self._low_cable(driver, box["id"], origin)
        for _ in range(self.dice.whole(1, 3)):
            self._low_cable(box["id"], self._light(origin) if self.dice.often(0.6) else self._strip(origin), origin)

    def _low_cable(self, start: str, end: str, origin: str) -> None:
        self._cable(start, end, origin, _low_voltage=True, conductors=2, ground=False)

    def _light(self, origin: str) -> str:
        return self._add("low_voltage_load", "spot", origin=origin, _form="power")["id"]

    def _strip(self, origin: str, **wired: Any) -> str:
        return self._add("low_voltage_load", "strip", origin=origin, _form="power_per_length", **wired)["id"]
