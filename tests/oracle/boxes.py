"""Box fill counted apart from the program: 314.16(B) as three editions have it."""

from tests.oracle.printed import BOXES, CONDUCTOR, METRIC_AS
from tests.oracle.reading import ends


def _volume(size):
    number = size.split()[0]
    return CONDUCTOR[METRIC_AS[number][1] if "mm" in size else number]


def needed(sections, box, edition, *, worst):
    """Cubic inches with everything unknown at its worst or at its best."""
    cables = [one for one in sections["cable"] if box["id"] in (one["from"], one["to"])]
    unbroken, wires = box.get("unbroken", ()), box.get("fixture_wires", ())
    devices = box.get("devices", ())
    present = [_volume(one["size"]) for one in (*cables, *unbroken, *wires, *devices) if "size" in one]
    largest = max(present)
    canopy = box.get("canopy", not worst)
    total = sum(one.get("conductors", 3 if worst else 2) * _volume(one["size"]) for one in cables)
    # Unbroken wires of another circuit count once each, a loop twice.
    total += sum(one["count"] * (2 if one["loop"] else 1) * _volume(one["size"]) for one in unbroken)
    # Up to four luminaire wires thinner than 14 AWG may be left out under a domed canopy, and their ground.
    total += sum(one["count"] * _volume(one["size"]) for one in wires if not canopy or one["size"] == "14 AWG")
    total += largest if box.get("internal_clamps", worst) else 0.0
    total += largest * len(set(box.get("fittings", ())))
    total += sum(2 * one["gangs"] * (_volume(one["size"]) if "size" in one else largest) for one in devices)
    if edition == "nec-2023":
        total += box.get("terminal_blocks", 0) * largest
    grounds = [_volume(one["size"]) for one in cables if one.get("ground", worst)]
    if "fixture_ground" in box and not canopy:
        grounds.append(_volume(box["fixture_ground"]))
    if grounds:
        more = max(0, len(grounds) - 4) / 4 if edition != "nec-2017" else 0.0
        total += (1 + more) * max(grounds)
    return total


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


def outcome(low, high, has):
    if has is None:
        return "undetermined"
    if low > has[1] + 1e-9:
        return "fail"
    return "undetermined" if high > has[0] + 1e-9 else "pass"
