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
    filament = load.get("lamp") in ("incandescent", "halogen")
    lampholder = "fitted" in load and load["kind"] == "light"
    return (1.0, 1.0) if load["kind"] == "heater" or filament or lampholder else (0.5, 1.0)


def driver_volt_amperes(driver):
    if "input_current" in driver:
        low, high = ends(driver["input_current"])
        return 120 * low, 120 * high
    low, high = ends(driver["output_power"])
    share = ends(driver["efficiency"])[0] * ends(driver["power_factor"])[0]
    return low / share, high / share


def fixed(load, kind):
    """Whether a load of that kind is fastened in place; None where the file does not say."""
    if load["kind"] != kind:
        return False
    return {"hardwired": True, "cord": False, None: None}[load.get("connection")]


def motor(load):
    """A quarter of one motor of it at least and at most [VA]: of a fan fastened in place and over 1/8 hp.

    1/8 hp is 93.2 W, and what a motor draws is never less than what its shaft gives: 220.18(A).
    """
    drawn, here = volt_amperes(load), fixed(load, "fan")
    if drawn is None or here is False:
        return 0.0, 0.0
    quarters = []
    for end, may_be in ((0, here), (1, True)):
        each = drawn[end] / load.get("quantity", 1)
        shaft = min(each, ends(load["power"])[end]) if "power" in load else each
        quarters.append(0.25 * each if may_be and shaft > 93.2 else 0.0)
    return tuple(quarters)


def largest(those, end, hours=None):
    """A quarter of the largest motor [VA]; hours: of those that do not count as continuous at this end of the hours.

    220.18(A) counts the largest motor of what is fed a quarter more, of a conductor the largest that it feeds (430.24).
    One that is continuous has its quarter already, and takes that of another motor from nobody.
    """
    quarters = (quarter[end] for _, _, always, quarter in those if hours is None or not always[hours])
    return max(quarters, default=0.0)


def continuous(load):
    """Whether it counts as continuous: at least; at most if nobody said for how long counts as short; at most.

    A fixed space heater always does (424.3(B) of 2017; practice since).
    """
    heater = fixed(load, "heater")
    said = load.get("continuous")
    perhaps = heater is not False or bool(said)
    return bool(heater or said), perhaps, perhaps or said is None


def draws(sections, unplugged=180):
    """(box, volt-amperes or None, continuous, a quarter of its motor) of everything on the circuit."""
    found = [(load["box"], volt_amperes(load, unplugged), continuous(load), motor(load)) for load in sections["load"]]
    drivers = sections.get("driver", ())
    return found + [(one["box"], driver_volt_amperes(one), (one["continuous"],) * 3, (0.0, 0.0)) for one in drivers]


def amperes(those):
    """At least; at most with what nobody said counted as short; at most with it counted as continuous [A].

    1.25 x what is on for three hours or more, and the rest: 210.19(A), 210.20(A).
    """
    known = [(drawn, always) for _, drawn, always, _ in those if drawn is not None]
    sums = []
    for end, hours in ((0, 0), (1, 1), (1, 2)):
        lasting = sum(1.25 * drawn[end] if always[hours] else drawn[end] for drawn, always in known)
        sums.append((lasting + largest(those, end, hours)) / 120)
    return tuple(sums)


def flowing(those, end):
    """What flows at least (end 0) or at most (1), the largest motor a quarter more [A]."""
    return (sum(drawn[end] for _, drawn, _, _ in those if drawn is not None) + largest(those, end)) / 120


def unplugged(those):
    """What receptacles may take into which nobody said anything is plugged, as if it were on for hours or not [A]."""
    plugged = ((drawn, always) for _, drawn, always, _ in those if drawn and drawn[0] == 0)
    return sum(drawn[1] * (1.25 if always[1] else 1.0) for drawn, always in plugged) / 120


def _dwelling(sections):
    """Whether it is known to be a dwelling."""
    return sections.get("site", {}).get("dwelling") is True


def load_share(sections):
    """(outcome, low, worst or None, breaker)."""
    breaker = ends(sections["supply"]["breaker"])[0]
    those = draws(sections, unplugged=0)
    low, high, worst = amperes(those)
    plain = sum(drawn[1] for _, drawn, _, _ in those if drawn is not None) / 120
    unknown = any(drawn is None for _, drawn, _, _ in those)
    if low > breaker + NOISE:
        outcome = "fail"
    elif unknown or high - (unplugged(those) if _dwelling(sections) else 0) > breaker + NOISE:
        outcome = "undetermined"
    elif max(worst, high) > breaker + NOISE or plain > 0.8 * breaker + NOISE:
        outcome = "caution"
    else:
        outcome = "pass"
    return outcome, low, None if unknown else worst, breaker


def downstream(sections, cable):
    """What the cable carries; a receptacle of unknown use nothing at least."""
    boxes = [cable["to"]]
    for box in boxes:
        boxes += [one["to"] for one in branch_cables(sections) if one["from"] == box]
    return [draw for draw in draws(sections, unplugged=0) if draw[0] in boxes]


def metals(cable):
    """The tables to count by, worst first. An unknown metal is aluminum only where the table has that size."""
    given = cable.get("material")
    if given is None:
        # NM-B in 14 to 10 AWG is younger than the old aluminum cable: copper is assumed, and listed.
        made_of_copper = cable["type"] == "NM-B" and cable["size"] in ("14 AWG", "12 AWG", "10 AWG")
        return (ALUMINUM, COPPER) if awg(cable["size"]) in ALUMINUM and not made_of_copper else (COPPER, COPPER)
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
    """Hottest air and coolest [degC]; an attic may be as cool as the air of the ampacity table."""
    if "ambient" in cable:
        low, high = ends(cable["ambient"])
        return high, low
    return (60, 30) if cable["place"] == "attic" else (30, 30)


def crowd(cable):
    """Current-carrying conductors that lie together, most and fewest: two or three in each other cable."""
    if "current_carrying" in cable:
        return (cable["current_carrying"],) * 2
    # Where nobody says how many lie alongside: none to two.
    least, most = (cable["bundled_with"],) * 2 if "bundled_with" in cable else (0, 2)
    own = cable.get("conductors")
    return (own or 3) + 3 * most, (own or 2) + 2 * least


def ampacity(sections, cable, size=None):
    """(in its conditions, before correction and adjustment) at worst and at best [A].

    Indoors the correction of UF-B starts at 60 degC or at 90 degC: 340.80 and 340.112 are argued about.
    """
    size = size or awg(cable["size"])
    insulation, _ = CABLES[cable["type"]]
    insulations = (0, 2) if cable["type"] == "UF-B" else (insulation, insulation)
    found = []
    for metal, air, count, column in zip(metals(cable), ambient(cable), crowd(cable), insulations, strict=True):
        if size not in metal:
            found.append((0.0, 0.0))
        else:
            warm = next((row[1 + column] for row in AMBIENT if air <= row[0] + NOISE), 0.0)
            tight = next((factor for most, factor in BUNDLED if count <= most), 0.35)
            before = min(metal[size][column], metal[size][_final_column(sections, cable)])
            found.append((min(metal[size][column] * warm * tight, before), before))
    return found


def ampacity_numbers(sections, cable):
    """Low and high of what flows [A], and the most that may at worst.

    Where it fails at best already and nobody can tell how much flows, the least is told, and what may flow at best.

    Two comparisons: the load in the conditions, and the load with the factor for continuous loads before correction
    (210.19(A)(1)). The limit is the load at which the first of them is reached, but where the first fails, its own.
    """
    those = downstream(sections, cable)
    low, _, worst = amperes(those)
    found = []
    for end, counted, (there, before) in zip((1, 0), (worst, low), ampacity(sections, cable), strict=True):
        load = flowing(those, end)
        first = there == 0 or load > there + NOISE or counted * there <= load * before * (1 + NOISE)
        found.append((load, there if first else before * load / counted))
    (high, limit), (least, limit_at_best) = found
    unknown = any(drawn is None for _, drawn, _, _ in those)
    if unknown and _too_much(sections, flowing(those, 0), low, ampacity(sections, cable)[1]):
        limit = limit_at_best
    return min(least, high), None if unknown else max(least, high), limit


def ampacity_outcome(sections, cable):
    """The outcome where every load is known; else None."""
    those = downstream(sections, cable)
    if any(drawn is None for _, drawn, _, _ in those):
        return None
    low, high, worst = amperes(those)
    at_worst, at_best = ampacity(sections, cable)
    if _too_much(sections, flowing(those, 0), low, at_best):
        return "fail"
    if not _too_much(sections, flowing(those, 1), worst, at_worst):
        return "pass"
    # Only how long things stay on, and what is plugged in, is left to what people do: what is plugged in only where
    # it is a dwelling, since 220.14(I) counts 180 VA elsewhere (issue 9, B2).
    dwelling = _dwelling(sections)
    plugged = unplugged(those) if dwelling else 0
    bare = dwelling and sum(drawn[1] for _, drawn, _, _ in those if drawn[0] == 0) / 120
    too_much = _too_much(sections, flowing(those, 1) - bare, high - plugged, at_worst)
    return "undetermined" if too_much else "caution"


def _too_much(sections, load, counted, may):
    """Whether a load is too much, or the breaker too large, for what a conductor may carry there and before factors."""
    there, before = may
    too_large = ends(sections["supply"]["breaker"])[0] > greatest_device(sections, there) + NOISE
    return there == 0 or load > there + NOISE or too_large or counted > before + NOISE


def least_size(sections, cable):
    """The thinnest conductor that the breaker, its own ampacity and its load allow at worst; None if none of the table.

    Only for copper, with every load behind it known and nobody's hours in doubt.
    """
    those = downstream(sections, cable)
    breaker = ends(sections["supply"]["breaker"])[0]
    _, high, worst = amperes(those)
    if cable.get("material") != "copper" or any(drawn is None for _, drawn, _, _ in those) or high != worst:
        return None
    for size in COPPER:
        allowed = int(size) <= int(LEAST_COPPER[breaker]) and breaker <= greatest_breaker(sections, cable, size)[0]
        there, before = ampacity(sections, cable, size)[0]
        carried = flowing(those, 1) <= there + NOISE and high <= before + NOISE
        if allowed and carried and breaker <= greatest_device(sections, there) + NOISE:
            return f"{size} AWG"
    return None
