"""Load share, breaker against wire, ampacity and least wire, reckoned apart from the program."""

from tests.oracle.printed import (
    ALUMINUM,
    AMBIENT,
    BUNDLED,
    CABLES,
    COPPER,
    LEAST_COPPER,
    METRIC_AS,
    RATINGS,
    SMALL_ALUMINUM,
    SMALL_COPPER,
)
from tests.oracle.reading import ends

#: A float may be that much over a limit without passing it.
NOISE = 1e-9


def awg(size):
    """The number of the AWG size by which a conductor counts."""
    number = size.split()[0]
    return METRIC_AS[number][0] if "mm" in size else number


def branch_cables(sections):
    return [cable for cable in sections["cable"] if cable["from"] != "driver"]


def volt_amperes(load, unplugged=180):
    """What a load may draw, least and most [VA]; None where nothing is known of it.

    A receptacle counts 180 VA at most where nobody said what is plugged in (220.14(I), as a planning figure), and
    ``unplugged`` at least.
    """
    pieces = load.get("quantity", 1)
    if "power" in load:
        low, high = ends(load["power"])
        least, most = power_factor(load)
        return pieces * low / most, pieces * high / least
    if "apparent" in load:
        low, high = ends(load["apparent"])
    elif "current" in load:
        low, high = (120 * end for end in ends(load["current"]))
    elif load["kind"] == "receptacle":
        low, high = unplugged, 180
    else:
        return None
    return pieces * low, pieces * high


def power_factor(load):
    """Least and greatest power factor; a heater has none to speak of, an unlisted LED may have 0.5."""
    if "power_factor" in load:
        return ends(load["power_factor"])
    return (1.0, 1.0) if load["kind"] == "heater" else (0.5, 1.0)


def driver_volt_amperes(driver):
    if "input_current" in driver:
        low, high = ends(driver["input_current"])
        return 120 * low, 120 * high
    low, high = ends(driver["output_power"])
    share = ends(driver["efficiency"])[0] * ends(driver["power_factor"])[0]
    return low / share, high / share


def draws(sections, unplugged=180):
    """(box, volt-amperes or None, continuous or None) of everything on the circuit."""
    found = [(load["box"], volt_amperes(load, unplugged), load.get("continuous")) for load in sections["load"]]
    return found + [(one["box"], driver_volt_amperes(one), one["continuous"]) for one in sections.get("driver", ())]


def amperes(those):
    """At least; at most with what nobody said counted as short; at most with it counted as continuous [A].

    1.25 x what is on for three hours or more, and the rest: 210.19(A), 210.20(A).
    """
    known = [(drawn, always) for _, drawn, always in those if drawn is not None]
    low = sum(drawn[0] * (1.25 if always else 1.0) for drawn, always in known) / 120
    high = sum(drawn[1] * (1.25 if always else 1.0) for drawn, always in known) / 120
    worst = sum(drawn[1] * (1.0 if always is False else 1.25) for drawn, always in known) / 120
    return low, high, worst


def unplugged(those):
    """What receptacles may take into which nobody said anything is plugged, as if it were on for hours or not [A]."""
    return sum(drawn[1] * (1.25 if always else 1.0) for _, drawn, always in those if drawn and drawn[0] == 0) / 120


def load_share(sections):
    """(outcome, low, worst or None, breaker)."""
    breaker = ends(sections["supply"]["breaker"])[0]
    those = draws(sections, unplugged=0)
    low, high, worst = amperes(those)
    plain = sum(drawn[1] for _, drawn, _ in those if drawn is not None) / 120
    unknown = any(drawn is None for _, drawn, _ in those)
    if low > breaker + NOISE:
        outcome = "fail"
    elif unknown or high - unplugged(those) > breaker + NOISE:
        outcome = "undetermined"
    elif max(worst, high) > breaker + NOISE or plain > 0.8 * breaker + NOISE:
        outcome = "caution"
    else:
        outcome = "pass"
    return outcome, low, None if unknown else worst, breaker


def downstream(sections, cable):
    """What the cable carries."""
    boxes = [cable["to"]]
    for box in boxes:
        boxes += [one["to"] for one in branch_cables(sections) if one["from"] == box]
    return [draw for draw in draws(sections) if draw[0] in boxes]


def metals(cable):
    """The tables to count by, worst first. An unknown metal is aluminum only where the table has that size."""
    given = cable.get("material")
    if given is None:
        return (ALUMINUM, COPPER) if awg(cable["size"]) in ALUMINUM else (COPPER, COPPER)
    return (COPPER, COPPER) if given == "copper" else (ALUMINUM, ALUMINUM)


def _terminals(sections):
    return 1 if sections["supply"].get("terminals") == "75 degC" else 0


def _final_column(sections, cable):
    insulation, limit = CABLES[cable["type"]]
    return min(_terminals(sections), insulation if limit is None else limit)


def receptacles(sections):
    """A duplex receptacle is two, so any forbids the next larger rating (240.4(B)(1))."""
    devices = [one for box in sections["box"] for one in box.get("devices", ())]
    return any(one["kind"] == "receptacle" for one in (*sections["load"], *devices))


def greatest_device(sections, ampacity):
    if ampacity == 0 or receptacles(sections):
        return ampacity
    return next(rating for rating in RATINGS if rating >= ampacity - NOISE)


def greatest_breaker(sections, cable, size=None):
    """The largest breaker for the conductor by itself, at worst and at best [A]."""
    size = size or awg(cable["size"])
    found = []
    for metal in metals(cable):
        small = SMALL_COPPER if metal is COPPER else SMALL_ALUMINUM
        if size in small:
            found.append(small[size])
        elif size not in metal:
            found.append(0)
        else:
            found.append(greatest_device(sections, metal[size][_final_column(sections, cable)]))
    return found


def ambient(cable):
    """Hottest air and coolest [degC], or None for the coolest where only a place is given that may be cooler."""
    if "ambient" in cable:
        low, high = ends(cable["ambient"])
        return high, low
    return (60, None) if cable["place"] == "attic" else (30, 30)


def crowd(cable):
    """Current-carrying conductors that lie together, most and fewest: two in each other cable."""
    if "current_carrying" in cable:
        return (cable["current_carrying"],) * 2
    beside = 2 * cable.get("bundled_with", 0)
    own = cable.get("conductors")
    return (3 + beside, 2 + beside) if own is None else (own + beside,) * 2


def ampacity(sections, cable, size=None):
    """At worst and at best [A]; None for an end that the file does not settle."""
    size = size or awg(cable["size"])
    insulation, _ = CABLES[cable["type"]]
    found = []
    for metal, air, count in zip(metals(cable), ambient(cable), crowd(cable), strict=True):
        if size not in metal:
            found.append(0.0)
        elif air is None:
            found.append(None)
        else:
            warm = next((row[1 + insulation] for row in AMBIENT if air <= row[0] + NOISE), 0.0)
            tight = next((factor for most, factor in BUNDLED if count <= most), 0.35)
            cap = metal[size][_final_column(sections, cable)]
            found.append(min(metal[size][insulation] * warm * tight, cap))
    return found


def ampacity_outcome(sections, cable):
    """The outcome where every load is known and both ends of the ampacity are; else None."""
    those = downstream(sections, cable)
    worst_a, best_a = ampacity(sections, cable)
    if best_a is None or any(drawn is None for _, drawn, _ in those):
        return None
    low, high, worst = amperes(those)
    breaker = ends(sections["supply"]["breaker"])[0]
    if best_a == 0 or low > best_a + NOISE or breaker > greatest_device(sections, best_a) + NOISE:
        return "fail"
    if high > worst_a + NOISE or breaker > greatest_device(sections, worst_a) + NOISE:
        return "undetermined"
    return "caution" if worst > worst_a + NOISE else "pass"


def least_size(sections, cable):
    """The thinnest conductor that the breaker, its own ampacity and its load allow at worst; None if none of the table.

    Only for copper, with every load behind it known and nobody's hours in doubt.
    """
    those = downstream(sections, cable)
    breaker = ends(sections["supply"]["breaker"])[0]
    _, high, worst = amperes(those)
    if cable.get("material") != "copper" or any(drawn is None for _, drawn, _ in those) or high != worst:
        return None
    for size in COPPER:
        allowed = int(size) <= int(LEAST_COPPER[breaker]) and breaker <= greatest_breaker(sections, cable, size)[0]
        there = ampacity(sections, cable, size)[0]
        if allowed and high <= there + NOISE and breaker <= greatest_device(sections, there) + NOISE:
            return f"{size} AWG"
    return None
