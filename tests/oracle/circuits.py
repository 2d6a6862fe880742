"""Random but plausible circuit files: the same seed always writes the same file."""

import random

from tests.oracle.printed import BOXES, CABLES

EDITIONS = ("nec-2017", "nec-2020", "nec-2023")


class _Dice:
    def __init__(self, seed):
        self.random = random.Random(seed)

    def often(self, share):
        return self.random.random() < share

    def one(self, *choices):
        return self.random.choice(choices)

    def value(self, low, high, unit, digits=0):
        """A value with its unit: exact mostly, else a range, a guess, or how it is known."""
        first = round(self.random.uniform(low, high), digits)
        second = round(first * self.random.uniform(1.05, 1.6) + 10**-digits, digits)
        first, second = (int(first), int(second)) if digits == 0 else (first, second)
        return self.random.choices(
            (f"{first} {unit}", f"{first} {unit} to {second} {unit}", f"{first} to {second} {unit}",
             f"about {first} {unit}", f"measured {first} {unit}", f"label {first} {unit}"),
            (6, 1, 1, 1, 1, 1),
        )[0]  # fmt: skip


def random_circuit(seed):
    """The sections of one circuit file."""
    dice = _Dice(seed)
    count = dice.one(1, 1, 2, 3, 4, 6)
    supply = {"voltage": "120 V", "breaker": f"{dice.one(10, 15, 15, 15, 20, 20, 30)} A", "serves": "general lighting"}
    if dice.often(0.3):
        supply["terminals"] = dice.one("60 degC", "75 degC")
    sections = {
        "job": {"title": "random", "rulebook": dice.one(*EDITIONS)},
        "supply": supply,
        "box": [_box(dice, number) for number in range(count)],
        "cable": [_cable(dice, number) for number in range(count)],
        "load": [_load(dice, number, count) for number in range(dice.random.randint(1, 2 * count))],
    }
    boxes = {box["id"]: box for box in sections["box"]}
    for load in sections["load"]:
        if load["kind"] == "receptacle":
            boxes[load["box"]].setdefault("devices", [{"kind": "receptacle", "gangs": 1}])
    if dice.often(0.3):
        _add_driver(dice, sections)
    return sections


def _box(dice, number):
    box = {"id": f"b{number}", "origin": dice.one("existing", "added")}
    if dice.often(0.5):
        box["trade_size"] = dice.one(*BOXES)
    elif dice.often(0.9):
        box["volume"] = dice.value(8, 34, "in^3", 1)
    if dice.often(0.75):
        box["internal_clamps"] = dice.often(0.5)
    if dice.often(0.3):
        box["fittings"] = dice.one(["stud"], ["hickey"], ["stud", "hickey"], ["stud", "stud"])
    if dice.often(0.4):
        box["devices"] = [_device(dice) for _ in range(dice.one(1, 1, 2))]
    if dice.often(0.5):
        box["fixture_wires"] = [{"size": dice.one("18 AWG", "16 AWG", "14 AWG"), "count": dice.random.randint(2, 4)}]
        if dice.often(0.7):
            box["fixture_ground"] = dice.one("18 AWG", "16 AWG")
        if dice.often(0.7):
            box["canopy"] = dice.often(0.5)
    if dice.often(0.15):
        box["terminal_blocks"] = dice.random.randint(0, 2)
    if dice.often(0.15):
        run = {"size": dice.one("14 AWG", "12 AWG"), "count": dice.random.randint(1, 3), "loop": dice.often(0.4)}
        box["unbroken"] = [run | {"other_circuit": True}]
    if dice.often(0.15):
        box["extensions"] = [dice.value(3, 7, "in^3", 1) for _ in range(dice.one(1, 2))]
    return box


def _device(dice):
    device = {"kind": dice.one("switch", "dimmer", "switch", "receptacle"), "gangs": dice.one(1, 1, 1, 2)}
    return device | ({"size": dice.one("14 AWG", "12 AWG", "10 AWG")} if dice.often(0.5) else {})


def _cable(dice, number):
    behind = "panel" if number == 0 else f"b{dice.random.randrange(number)}"
    cable = {"id": f"c{number}", "from": behind, "to": f"b{number}", "origin": dice.one("existing", "added")}
    cable["type"] = dice.one("NM-B", "NM-B", "NM-B", *CABLES)
    sizes = ("14 AWG", "12 AWG", "10 AWG", "8 AWG", "2.5 mm^2", "4 mm^2")
    cable["size"] = dice.random.choices(sizes, (10, 6, 2, 1, 1, 1))[0]
    if dice.often(0.9):
        cable["conductors"] = dice.one(2, 2, 2, 3)
    if dice.often(0.9):
        cable["ground"] = dice.often(0.85)
    if "mm" in cable["size"]:
        cable["material"] = "copper"
    elif dice.often(0.93):
        materials = ("copper", "aluminum", "copper-clad aluminum")
        cable["material"] = dice.random.choices(materials, (10, 1, 1))[0]
    if dice.often(0.9):
        cable["stranding"] = dice.one("solid", "solid", "stranded")
    cable["length"] = dice.one(dice.value(5, 110, "ft"), dice.value(2, 30, "m", 1))
    if dice.often(0.1):
        cable["conductor_temperature"] = dice.one("30 degC", "50 degC to 65 degC", "90 degC")
    cable["place"] = dice.one("attic", "inside", "inside")
    if dice.often(0.5):
        cable["ambient"] = dice.one(dice.value(15, 66, "degC"), f"{dice.random.randint(60, 150)} degF")
    if dice.often(0.25):
        cable["bundled_with"] = dice.random.randint(0, 6)
    if dice.often(0.08):
        # this cable and each other alongside have two at least
        cable["current_carrying"] = dice.random.randint(2 + 2 * cable.get("bundled_with", 0), 25)
    return cable


def _load(dice, number, count):
    load = {"id": f"l{number}", "box": f"b{dice.random.randrange(count)}", "origin": dice.one("existing", "added")}
    load["kind"] = dice.one("light", "light", "light", "receptacle", "fan", "heater", "alarm")
    if dice.often(0.3):
        load["quantity"] = dice.random.randint(1, 4)
    how = dice.one("power", "power", "power", "apparent", "current", "nothing")
    if how == "power":
        load["power"] = dice.value(5, 250, "W")
    elif how == "apparent":
        load["apparent"] = dice.value(5, 250, "VA")
    elif how == "current":
        load["current"] = dice.value(0.05, 3, "A", 2)
    if dice.often(0.6):
        load["power_factor"] = dice.one("1.0", "0.9", "0.7", "0.53")
    if dice.often(0.75):
        load["continuous"] = dice.often(0.4)
    return load


def _add_driver(dice, sections):
    volts = dice.one(12, 24, 24, 48)
    driver = {
        "id": "driver",
        "box": "b0",
        "origin": "added",
        "output_voltage": f"{volts} V",
        "output_kind": "ac" if volts < 30 and dice.often(0.3) else "dc",
        "output_power": dice.value(10, 140, "W"),
        "class_2": dice.often(0.8),
        "continuous": dice.often(0.4),
    }
    if dice.often(0.5):
        driver["input_current"] = dice.value(0.1, 1.6, "A", 2)
    else:
        driver |= {"efficiency": dice.one("0.8", "0.91"), "power_factor": dice.one("0.6", "0.95")}
    light = {"id": "light", "origin": "added", "kind": dice.one("constant power", "constant current")}
    if dice.often(0.5):
        light["power"] = dice.value(3, 60, "W")
    else:
        light |= {"power_per_length": dice.value(1, 5, "W/ft", 1), "length": dice.value(2, 14, "ft")}
        light |= {"resistance_per_length": dice.value(0.01, 0.05, "ohm/ft", 3)}
        light["fed_from"] = dice.one("one end", "both ends", "middle")
    if dice.often(0.3):
        light["min_voltage"] = f"{round(volts * dice.one(0.88, 0.93, 0.97), 1)} V"
    lead = {"id": "lead", "from": "driver", "to": "light", "origin": "added", "type": "class 2 cable", "conductors": 2}
    lead |= {"size": dice.one("18 AWG", "16 AWG", "14 AWG"), "ground": False, "material": "copper"}
    lead |= {"stranding": "stranded", "length": dice.value(2, 50, "ft"), "place": "inside"}
    sections["cable"].append(lead)
    sections["driver"] = [driver]
    sections["low_voltage_load"] = [light]
