"""Box fill counted apart from the program: 314.16(B) as three editions have it."""

from tests.oracle.printed import BOXES, CONDUCTOR, METRIC_AS
from tests.oracle.reading import ends


def _volume(size):
    number = size.split()[0]
    return CONDUCTOR[METRIC_AS[number][1] if "mm" in size else number]


#: Leads that are usual for what is hardwired, where nobody counted them: how many, of which size, with a ground or not.
USUAL_LEADS = {
    "light": (2, "18 AWG", True),
    "pendant": (4, "18 AWG", True),
    "fan": (3, "18 AWG", True),
    "heater": (2, "14 AWG", True),
    "alarm": (3, "18 AWG", False),
    "driver": (2, "18 AWG", True),
    "dimming driver": (4, "18 AWG", True),
}


def touched(sections, box):
    """Whether the work opens the box: it is added, or something added ends or stands in it."""
    parts = [one for one in sections["cable"] if box["id"] in (one["from"], one["to"])]
    parts += [one for one in (*sections["load"], *sections.get("driver", ())) if one["box"] == box["id"]]
    return any(one["origin"] == "added" for one in (box, *parts))


def _hardwired(sections, box):
    """(kind, whether it has a ground) of each thing in the box that brings leads."""
    for load in sections["load"]:
        if load["box"] == box["id"] and load["kind"] != "receptacle" and load.get("connection") != "cord":
            # A light of which nobody says how it is mounted may hang from a cord with more leads.
            hangs = load["kind"] == "light" and load.get("mounting", "pendant") == "pendant"
            kind = "pendant" if hangs else load["kind"]
            grounded = load.get("grounding") not in ("none", "double-insulated")
            yield from [(kind, grounded)] * load.get("quantity", 1)
    for driver in sections.get("driver", ()):
        if driver["box"] == box["id"]:
            yield ("driver" if driver.get("dimming") in ("none", "phase") else "dimming driver"), True


def _leads(sections, box, worst):
    """The luminaire and driver leads, and the volume of their ground (None: none), as given or as is usual at worst."""
    usual = [(*USUAL_LEADS[kind], grounded) for kind, grounded in _hardwired(sections, box)]
    wires = box.get("fixture_wires")
    if wires is None:
        wires = [{"size": size, "count": count} for count, size, *_ in usual] if worst else []
    if "fixture_ground" in box:
        ground = box["fixture_ground"]
    else:
        # All equipment grounds count as one of the largest: 314.16(B)(5). The less "AWG", the thicker.
        grounds = [size for _, size, with_ground, grounded in usual if with_ground and grounded]
        ground = min(grounds, default=None) if worst else None
    return wires, ground


def _unlisted(sections, box):
    """Where no device is listed: of what is there and may plug in, one plugs into a receptacle on a yoke."""
    here = [one for one in sections["load"] if one["box"] == box["id"]]
    return [{"gangs": 1}] if any("connection" not in one for one in here) else []


def _left_off(sections, box):
    """Where fewer devices are listed than switches and receptacles are there, each of the others may have a yoke."""
    receptacles = [one for one in sections["load"] if one["box"] == box["id"] and one["kind"] == "receptacle"]
    switches = [one for one in sections.get("control", ()) if one["box"] == box["id"]]
    return [{"gangs": 1}] * (len(receptacles) + len(switches) - len(box["devices"]))


def _of_another_circuit(sections, box, worst):
    """Cables of another circuit: where nobody says, at worst one 12/2 for each gang that this circuit leaves."""
    gangs = sum(one["gangs"] for one in box.get("devices", ()))
    here = [one for one in sections["load"] if one["box"] == box["id"]]
    own = sum(one["kind"] == "receptacle" for one in here) or int(any(one.get("connection") == "cord" for one in here))
    shared = worst and gangs >= 2 and own < gangs
    return [{"size": "12 AWG", "conductors": 2, "ground": True}] * (gangs - max(own, 1) if shared else 0)


def needed(sections, box, edition, *, worst):
    """Cubic inches with everything unknown at its worst or at its best, and how many of them are read both ways."""
    cables = [one for one in sections["cable"] if box["id"] in (one["from"], one["to"])]
    cables += _of_another_circuit(sections, box, worst)
    unbroken = box.get("unbroken", ())
    wires, fixture_ground = _leads(sections, box, worst)
    devices = box.get("devices", _unlisted(sections, box) if worst else ())
    if box.get("devices") and worst and "gangs" not in box:
        devices = [*devices, *_left_off(sections, box)]
    present = [_volume(one["size"]) for one in (*cables, *unbroken, *wires, *devices) if "size" in one]
    largest = max(present)
    # No canopy lets out the leads of a driver.
    driven = any(one["box"] == box["id"] for one in sections.get("driver", ()))
    canopy = box.get("canopy", not worst) and not driven
    total = sum(one.get("conductors", 3 if worst else 2) * _volume(one["size"]) for one in cables)
    # Unbroken wires of another circuit count once each, a loop twice.
    total += sum(one["count"] * (2 if one["loop"] else 1) * _volume(one["size"]) for one in unbroken)
    # Up to four luminaire wires thinner than 14 AWG may be left out under a domed canopy, and their ground. Of
    # more than four all count, or as others read it those beyond four.
    small = sorted(
        (_volume(one["size"]) for one in wires if one["size"] != "14 AWG" for _ in range(one["count"])), reverse=True
    )
    total += sum(one["count"] * _volume(one["size"]) for one in wires if one["size"] == "14 AWG")
    total += sum(small) if not canopy or len(small) > 4 else 0.0
    read_both_ways = sum(small[:4]) if canopy and len(small) > 4 else 0.0
    total += largest if box.get("internal_clamps", worst) else 0.0
    total += largest * len(set(box.get("fittings", ())))
    total += sum(2 * one["gangs"] * (_volume(one["size"]) if "size" in one else largest) for one in devices)
    if edition == "nec-2023":
        total += box.get("terminal_blocks", 0) * largest
    grounds = [_volume(one["size"]) for one in cables if one.get("ground", worst)]
    if fixture_ground is not None and not canopy:
        grounds.append(_volume(fixture_ground))
    if grounds:
        more = max(0, len(grounds) - 4) / 4 if edition != "nec-2017" else 0.0
        total += (1 + more) * max(grounds)
    return total, read_both_ways


def room(box):
    """Least and most cubic inches that the box has; None where nobody knows."""
    if "trade_size" in box:
        low = high = BOXES[box["trade_size"]]
    elif "volume" in box:
        low, high = ends(box["volume"])
    else:
        return None
    for extension in box.get("extensions", ()):
        more_low, more_high = ends(extension)
        low, high = low + more_low, high + more_high
    return low, high


def outcome(low, high, has, *, opened):
    """The answer for (needed, read both ways) at best and at worst. A box that nobody opens never holds it open."""
    if not opened:
        return "caution" if high[0] > has[0] + 1e-9 else "pass"
    if has is None:
        return "undetermined"
    if low[0] - low[1] > has[1] + 1e-9:
        return "fail"
    return "undetermined" if high[0] > has[0] + 1e-9 else "pass"
