"""Class 2, what a driver gives, and the volts at the far end, by shooting along a strip cut into many pieces."""

from tests.oracle.printed import FOOT, OHM_PER_KFT
from tests.oracle.reading import ends

PIECES = 300


def class_2(driver):
    """(outcome, limit in VA)."""
    volts = ends(driver["output_voltage"])[0]
    low, high = ends(driver["output_power"])
    limit = 5 * volts if volts <= 20 else 100
    if not driver["class_2"]:
        return "caution", limit
    if low > limit + 1e-9:
        # A label that contradicts itself is a question: the listing mark decides, not the watts (issue 9, A18).
        return "undetermined", limit
    return ("undetermined" if high > limit + 1e-9 else "pass"), limit


def least_voltage(sections):
    (light,), (driver,) = sections["low_voltage_load"], sections["driver"]
    return ends(light["min_voltage"])[0] if "min_voltage" in light else 0.95 * ends(driver["output_voltage"])[0]


def far_end(sections, end):
    """(volts at the lowest point, watts that the driver gives) at best (0) or worst (1); None where nothing serves."""
    (light,), (driver,) = sections["low_voltage_load"], sections["driver"]
    lead = next(cable for cable in sections["cable"] if cable["id"] == "lead")
    output = ends(driver["output_voltage"])[0]
    lead_ohm = 2 * ends(lead["length"])[end] * OHM_PER_KFT[lead["size"].split()[0]][1] / (1000 * FOOT)
    pieces, halves, strip_ohm = 1, 1, 0.0
    if "power" in light:
        watts = ends(light["power"])[end]
    else:
        length = ends(light["length"])[end]
        watts = ends(light["power_per_length"])[end] * length
        strip_ohm = ends(light["resistance_per_length"])[end] * length
        # Fed at both ends with the same voltage, or in the middle: two halves, and the lead carries both.
        pieces, halves = PIECES, 1 if light["fed_from"] == "one end" else 2
    each_w, each_ohm = watts / halves / pieces, strip_ohm / halves / pieces

    def source(far_v):
        volts, amperes = far_v, 0.0
        for _ in range(pieces):
            volts += amperes * each_ohm / 2
            amperes += each_w / (volts if light["kind"] == "constant power" else output)
            volts += amperes * each_ohm / 2
        return volts + halves * amperes * lead_ohm, halves * amperes

    # From the output voltage down to the first far end whose source is no more than that.
    high = output
    step = output / 400
    while source(high - step)[0] > output:
        high -= step
        if high <= 0.3 * output:
            return None
    low = high - step
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if source(middle)[0] > output else (middle, high)
    return low, output * source(low)[1]
