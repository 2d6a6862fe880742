"""Units at the door. Conversion factors: NIST Special Publication 811, appendix B, where no other source is named."""

import math
import subprocess
import sys

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from circuitcheck.quantities import (
    KINDS,
    How,
    QuantityError,
    factor,
    in_unit,
    normal_text,
    normalised,
    read_designation,
    read_interval,
    read_size,
    shown,
    to_si,
)
from circuitcheck.quantities.conversions import CELSIUS, FACTORS
from circuitcheck.quantities.registry import registry, registry_factor
from circuitcheck.quantities.units import SPELLINGS

LENGTH = KINDS["length"]
POWER = KINDS["power"]
TEMPERATURE = KINDS["temperature"]


@pytest.mark.parametrize(
    ("unit", "expected"),
    [
        ("ft", 0.3048),  # NIST SP 811: foot, exact
        ("in", 0.0254),  # inch, exact
        ("yd", 0.9144),  # yard, exact
        ("in^3", 1.638706e-5),  # cubic inch, 7 digits
        ("cmil", 5.067075e-10),  # circular mil, 7 digits
        ("kcmil", 5.067075e-7),
        ("lb", 0.4535924),  # pound, 7 digits
        ("oz", 0.02834952),  # ounce (avoirdupois), 7 digits
        ("mL", 1e-6),
        ("cm^3", 1e-6),
        ("mm^2", 1e-6),
        ("mA", 1e-3),
        ("kVA", 1e3),
        ("percent", 0.01),
        ("", 1.0),
        ("ohm/km", 1e-3),
        ("ohm/kft", 3.28084e-3),  # foot to metre, as above
        ("W/ft", 3.28084),
        ("hour", 3600.0),
    ],
)
def test_factors_are_the_published_ones(unit, expected):
    assert factor(unit) == pytest.approx(expected, rel=3e-7)


@pytest.mark.parametrize("unit", sorted(FACTORS))
def test_factors_written_down_are_those_of_the_registry(unit):
    assert FACTORS[unit] == pytest.approx(registry_factor(unit), rel=1e-15)


@pytest.mark.parametrize("unit", ["degF", "K"])
@pytest.mark.parametrize("number", [-40, 0, 32, 77, 86, 104, 122, 140, 158, 194, 212, 300.5, 999])
def test_temperatures_are_those_of_the_registry(unit, number):
    by_registry = registry().Quantity(float(number), unit).to("degC").magnitude
    assert to_si(number, unit) == pytest.approx(by_registry, abs=1e-9)
    assert in_unit(to_si(number, unit), unit) == pytest.approx(number, abs=2e-9)


def test_every_unit_that_people_may_write_is_written_down():
    assert set(SPELLINGS.values()) <= {*FACTORS, *CELSIUS}


def test_a_unit_that_is_not_written_down_is_asked_for():
    assert "mil" not in FACTORS
    assert factor("mil") == pytest.approx(2.54e-5)  # NIST SP 811: mil


def test_resistance_table_prints_both_units_alike():
    """NFPA 70 chapter 9 table 8 prints 14 AWG solid uncoated copper as 3.07 ohm/kFT and as 10.1 ohm/km."""
    assert in_unit(to_si(3.07, "ohm/kft"), "ohm/km") == pytest.approx(10.1, abs=0.05)


def test_area_table_prints_both_units_alike():
    """The same table prints 14 AWG as 4110 circular mils and as 2.08 mm^2."""
    assert in_unit(to_si(4110, "cmil"), "mm^2") == pytest.approx(2.08, abs=0.005)


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        # NFPA 70 ambient tables print these pairs: 86 F = 30 C, 104 F = 40 C, 122 F = 50 C, 140 F = 60 C.
        ("86 degF", 30.0),
        ("104F", 40.0),
        ("122 °F", 50.0),
        ("140 degF", 60.0),
        ("32 F", 0.0),
        ("273.15 K", 0.0),
        ("-40 F", -40.0),
        ("75 degC", 75.0),
        ("75C", 75.0),
    ],
)
def test_temperatures_land_exactly_on_the_steps_of_the_tables(text, celsius):
    assert read_interval(text, TEMPERATURE).low == celsius


def test_a_temperature_has_no_factor():
    with pytest.raises(ValueError, match="offset"):
        factor("degC")


def test_an_unknown_unit_in_a_table_is_told():
    with pytest.raises(ValueError, match="furlong"):
        factor("furlong")


FT = 0.3048


@pytest.mark.parametrize(
    ("text", "low", "high", "how", "normal"),
    [
        ("38 ft", 38 * FT, 38 * FT, How.STATED, "38 ft"),
        ("38'", 38 * FT, 38 * FT, How.STATED, "38 ft"),
        ("38ft.", 38 * FT, 38 * FT, How.STATED, "38 ft"),
        ("38 FEET", 38 * FT, 38 * FT, How.STATED, "38 ft"),
        ("11.5 m", 11.5, 11.5, How.STATED, "11.5 m"),
        ("1-1/2 in", 0.0381, 0.0381, How.STATED, "1.5 in"),
        ("1 1/2 in", 0.0381, 0.0381, How.STATED, "1.5 in"),
        ("1½ in", 0.0381, 0.0381, How.STATED, "1.5 in"),
        ("1/2 in", 0.0127, 0.0127, How.STATED, "0.5 in"),
        ("½ in", 0.0127, 0.0127, How.STATED, "0.5 in"),
        (".5 in", 0.0127, 0.0127, How.STATED, "0.5 in"),
        ("5 ft 6 in", 5.5 * FT, 5.5 * FT, How.STATED, "5 ft 6 in"),
        ("5'6\"", 5.5 * FT, 5.5 * FT, How.STATED, "5 ft 6 in"),
        ("5'-6\"", 5.5 * FT, 5.5 * FT, How.STATED, "5 ft 6 in"),
        ("5′ 6″", 5.5 * FT, 5.5 * FT, How.STATED, "5 ft 6 in"),
        ("5 ft 6-1/2 in", 66.5 * 0.0254, 66.5 * 0.0254, How.STATED, "5 ft 6.5 in"),
        ("35 ft to 60 ft", 35 * FT, 60 * FT, How.STATED, "35 ft to 60 ft"),
        ("35 to 60 ft", 35 * FT, 60 * FT, How.STATED, "35 ft to 60 ft"),
        ("35-60 ft", 35 * FT, 60 * FT, How.STATED, "35 ft to 60 ft"),
        ("35 - 60ft", 35 * FT, 60 * FT, How.STATED, "35 ft to 60 ft"),
        ("35–60 ft", 35 * FT, 60 * FT, How.STATED, "35 ft to 60 ft"),
        ("35 ft–60 ft", 35 * FT, 60 * FT, How.STATED, "35 ft to 60 ft"),
        ("10 m to 60 ft", 10.0, 60 * FT, How.STATED, "10 m to 60 ft"),
        ("5 ft 6 in to 7 ft", 5.5 * FT, 7 * FT, How.STATED, "5 ft 6 in to 7 ft"),
        ("5 ft 6 in - 7 ft 2 in", 5.5 * FT, 86 * 0.0254, How.STATED, "5 ft 6 in to 7 ft 2 in"),
        ("about 60 ft", 45 * FT, 75 * FT, How.GUESS, "about 60 ft"),
        ("~60 ft", 45 * FT, 75 * FT, How.GUESS, "about 60 ft"),
        ("About 40 to 60 ft", 30 * FT, 75 * FT, How.GUESS, "about 40 ft to 60 ft"),
        ("about 5 ft 4 in", 48 * 0.0254, 80 * 0.0254, How.GUESS, "about 5 ft 4 in"),
        ("measured 38 ft", 38 * FT, 38 * FT, How.MEASURED, "measured 38 ft"),
        ("label 38 ft", 38 * FT, 38 * FT, How.LABEL, "label 38 ft"),
        ("  38   ft ", 38 * FT, 38 * FT, How.STATED, "38 ft"),
    ],
)
def test_lengths_as_people_write_them(text, low, high, how, normal):
    interval = read_interval(text, LENGTH)
    assert interval.low == pytest.approx(low, rel=1e-12)
    assert interval.high == pytest.approx(high, rel=1e-12)
    assert interval.how is how
    assert interval.text == text.strip()
    assert normal_text(text, LENGTH) == normal


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("9W", "power", 9.0),
        ("1.5 kW", "power", 1500.0),
        ("15.5 in^3", "volume", 15.5 * 1.6387064e-5),
        ("15.5 cu. in.", "volume", 15.5 * 1.6387064e-5),
        ("15.5in³", "volume", 15.5 * 1.6387064e-5),
        ("254 cm3", "volume", 2.54e-4),
        ("254 ml", "volume", 2.54e-4),
        ("75 VA", "apparent power", 75.0),
        ("600 mA", "current", 0.6),
        ("0.10 Ω", "resistance", 0.1),
        ("120v", "voltage", 120.0),
        ("3 lb 4 oz", "weight", 3.25 * 0.45359237),
        ("4.4 W/ft", "power per length", 4.4 / 0.3048),
        ("14.4 W/m", "power per length", 14.4),
        ("3.07 ohm/1000 ft", "resistance per length", 3.07e-3 / 0.3048),
        ("10.1 ohm/km", "resistance per length", 0.0101),
        ("0.92", "share", 0.92),
        ("92 %", "share", 0.92),
    ],
)
def test_other_kinds(text, kind, expected):
    interval = read_interval(text, KINDS[kind])
    assert interval.exact
    assert interval.low == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "says", "nearest"),
    [
        ("38", "length", "the number 38 stands without a unit", "38 ft"),
        ("35 to 60", "length", "the number 35 stands without a unit", "35 ft"),
        ("9 W", "length", "W is a unit for a power, and this key takes a length", None),
        ("-3 ft", "length", "a length cannot be negative", None),
        ("nan ft", "length", "this is not a number that can be measured", None),
        ("inf ft", "length", "this is not a number that can be measured", None),
        ("-inf ft", "length", "this is not a number that can be measured", None),
        ("1_000 ft", "length", "an underscore inside a number is not read: write the digits only", None),
        ("1e400 ft", "length", "powers of ten are not read: write the number out", None),
        ("1e3 ft", "length", "powers of ten are not read: write the number out", None),
        ("2**9 ft", "length", "sums are not worked out here: write one number with its unit", None),
        ("(3) ft", "length", "sums are not worked out here: write one number with its unit", None),
        ("1,5 m", "length", "the comma in 1,5 can mean two things: 1.5?", "1.5 m"),
        ("1,500 ft", "length", "the comma in 1,500 can mean two things: 1500?", "1500 ft"),
        ("60 to 35 ft", "length", "the range is written from more to less: 35 ft to 60 ft?", "35 ft to 60 ft"),
        ("35 ft to", "length", "the range has one end only", None),
        ("to 60 ft", "length", "the range has one end only", None),
        ("5 ft 14 in", "length", "14 in is not less than one ft: write one of the two units only", None),
        ("3000 ft", "length", "3000 ft is too much here: at most 2000 ft", None),
        ("10 feett", "length", '"feett" is not a known unit', "ft"),
        ("38 M", "length", '"M" is not a known unit', "m"),
        ("4 0 ft", "length", "this is not a number with a unit", None),
        ("1/0 ft", "length", "1/0 is no fraction as on a tape measure: write it as a decimal number", None),
        ("1.5.2 ft", "length", "this is not a number with a unit", None),
        ("٣ ft", "length", "this is not a number with a unit", None),
        ("", "length", "nothing is written here", None),
        ("about", "length", "this is not a number with a unit", None),
        ("about ", "length", "this is not a number with a unit", None),
        ("label", "length", "this is not a number with a unit", None),
        ("9 ft" * 40, "length", "this is too long to be a number with a unit", None),
        ("1.2", "share", "1.2 is too much here: at most 1", None),
        ("0", "share", "0 is too little here: at least 0.01", None),
        ("5 mW", "power", '"mW" is not a known unit', None),
        ("5 MA", "current", '"MA" is not a known unit', "mA"),
        (
            "50 VA",
            "power",
            "VA is apparent power and W is real power; a load's VA can be more than its W, "
            "so a power is not given in VA",
            None,
        ),
        (
            "50 W",
            "apparent power",
            "VA is apparent power and W is real power; a load's VA can be more than its W, "
            "so an apparent power is not given in W",
            None,
        ),
    ],
)
def test_slips_are_refused_in_words(text, kind, says, nearest):
    with pytest.raises(QuantityError) as caught:
        read_interval(text, KINDS[kind])
    assert caught.value.says == says
    assert caught.value.nearest == nearest
    assert caught.value.allowed == KINDS[kind].allowed


def test_a_guess_does_not_reach_past_what_is_possible():
    interval = read_interval("about 0.9", KINDS["share"])
    assert (interval.low, interval.high) == (pytest.approx(0.675), 1.0)


def test_negative_temperatures_are_read_as_ranges_too():
    interval = read_interval("-10 degC to 35 degC", TEMPERATURE)
    assert (interval.low, interval.high) == (-10.0, 35.0)


def test_shown_with_unit():
    assert shown(15.5 * 1.6387064e-5, "in^3") == "15.5 in^3"
    assert shown(0.031, "percent") == "3.1 %"
    assert shown(51.666666667, "degF") == "125 degF"
    assert shown(0.92, "") == "0.92"
    assert normalised(read_interval("about 60 ft", LENGTH), "ft") == "45 ft to 75 ft"
    assert normalised(read_interval("60 ft", LENGTH), "ft") == "60 ft"


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("14 AWG", "14 AWG"),
        ("14awg", "14 AWG"),
        ("#14", "14 AWG"),
        ("No. 14", "14 AWG"),
        ("14 gauge", "14 AWG"),
        ("14 ga", "14 AWG"),
        ("AWG 14", "14 AWG"),
        ("2/0 AWG", "2/0 AWG"),
        ("00 AWG", "2/0 AWG"),
        ("250 kcmil", "250 kcmil"),
        ("250 MCM", "250 kcmil"),
        ("2.5 mm^2", "2.5 mm^2"),
        ("2.5 mm2", "2.5 mm^2"),
        ("2.5mm²", "2.5 mm^2"),
        ("2,5 mm²", "2.5 mm^2"),
        ("4.0 sq mm", "4 mm^2"),
    ],
)
def test_sizes(text, name):
    assert read_size(text) == name


def test_no_sizes():
    with pytest.raises(QuantityError) as caught:
        read_size("14")
    assert caught.value.nearest == "14 AWG"
    for text in ("", "thick", "14 ft", "-14 AWG", "14.5 AWG", "2.5 mm"):
        with pytest.raises(QuantityError):
            read_size(text)


@pytest.mark.parametrize(
    ("text", "size", "conductors", "ground"),
    [
        ("14/2", "14 AWG", 2, None),
        ("14-2", "14 AWG", 2, None),
        ("12/3 with ground", "12 AWG", 3, True),
        ("14/2 WG", "14 AWG", 2, True),
        ("14/2 G", "14 AWG", 2, True),
        ("12/2 w/g", "12 AWG", 2, True),
    ],
)
def test_designations(text, size, conductors, ground):
    printed = read_designation(text)
    assert printed is not None
    assert (printed.size, printed.conductors, printed.ground) == (size, conductors, ground)


@pytest.mark.parametrize("text", ["1/0", "4/0", "2/0 AWG", "14 AWG", "14", "", "14/2 ft"])
def test_what_is_no_designation(text):
    assert read_designation(text) is None


def assert_said(error):
    assert error.says


NUMBERS = st.decimals(min_value="0.01", max_value="1900", places=2).map(lambda value: f"{value:f}")


@given(
    NUMBERS, st.sampled_from(sorted(word for word, unit in SPELLINGS.items() if unit in LENGTH.units)), st.booleans()
)
@settings(max_examples=150, deadline=None)
def test_every_spelling_reads_as_its_number_times_its_unit(number, word, space):
    unit = SPELLINGS[word]
    expected = float(number) * factor(unit)
    text = f"{number}{' ' if space else ''}{word}"
    # Just at the end (0.12 in is 0.01 ft) the last bit of a float decides; both answers are right there.
    assume(not any(math.isclose(expected, end * FT, rel_tol=1e-9) for end in (0.01, 2000)))
    if 0.01 * FT <= expected <= 2000 * FT:
        assert read_interval(text, LENGTH).low == pytest.approx(expected, rel=1e-12)
    else:
        with pytest.raises(QuantityError):
            read_interval(text, LENGTH)


@given(NUMBERS, NUMBERS, st.sampled_from(["ft", "m"]), st.sampled_from(["", "about ", "measured ", "label "]))
@settings(max_examples=150, deadline=None)
def test_the_normal_text_reads_as_the_same(first, second, unit, word):
    low, high = sorted((first, second), key=float)
    if float(high) * factor(unit) > 2000 * FT:
        return
    if float(low) * factor(unit) < 0.01 * FT:
        return
    text = f"{word}{low}-{high}{unit}"
    once = read_interval(text, LENGTH)
    again = read_interval(normal_text(text, LENGTH), LENGTH)
    assert (once.low, once.high, once.how) == (again.low, again.high, again.how)
    assert normal_text(normal_text(text, LENGTH), LENGTH) == normal_text(text, LENGTH)


@given(st.integers(1, 1000), st.integers(0, 15))
@settings(max_examples=60, deadline=None)
def test_fractions_of_an_inch(whole, sixteenths):
    text = f"{whole}-{sixteenths}/16 in"
    assert read_interval(text, LENGTH).low == pytest.approx((whole + sixteenths / 16) * 0.0254, rel=1e-12)


@given(st.text(max_size=60), st.sampled_from(sorted(KINDS)))
@example("²ft", "length")
@example("1 ⁄2 in", "length")
@example("-", "length")
@example("~", "share")
@example("1/99999999999 ft", "length")
@example("9" * 300, "share")
@settings(max_examples=400, deadline=None)
def test_any_text_is_read_or_refused_in_words(text, kind):
    try:
        interval = read_interval(text, KINDS[kind])
    except QuantityError as error:
        assert_said(error)
    else:
        assert math.isfinite(interval.low)
        assert interval.low <= interval.high


ALPHABET = st.text(alphabet="0123456789.,/-'\"~ ftinmWVAKC%^²½eE_*+to", max_size=20)


@given(ALPHABET, st.sampled_from(sorted(KINDS)))
@settings(max_examples=600, deadline=None)
def test_any_text_of_likely_signs_is_read_or_refused_in_words(text, kind):
    test_any_text_is_read_or_refused_in_words.hypothesis.inner_test(text, kind)


@given(st.text(alphabet="0123456789/-#. awgkcmilG²^,", max_size=16))
@settings(max_examples=300, deadline=None)
def test_any_size_text_is_read_or_refused(text):
    try:
        name = read_size(text)
    except QuantityError as error:
        name = ""
        assert_said(error)
    assert not name or read_size(name) == name
    read_designation(text)


def test_importing_the_package_does_not_import_pint():
    code = "import sys, circuitcheck.quantities; print('pint' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


# 3 lamps of 40 W are 120 W; 2 x 0.5 A = 1 A; a guess of 4 x 10 W is 40 W, a quarter less to a quarter more.
@pytest.mark.parametrize(
    ("text", "kind", "low", "high"),
    [
        ("3 x 40 W", "power", 120, 120),
        ("label 3x40W", "power", 120, 120),
        ("3 \u00d7 40 W", "power", 120, 120),
        ("2 x 0.5 A", "current", 1, 1),
        ("5 x 9 VA to 11 VA", "apparent power", 45, 55),
        ("about 4 x 10 W", "power", 30, 50),
    ],
)
def test_several_equal_pieces_add_up(text, kind, low, high):
    value = read_interval(text, KINDS[kind])
    assert (value.low, value.high) == (pytest.approx(low), pytest.approx(high))
    assert read_interval(normal_text(text, KINDS[kind]), KINDS[kind]).high == pytest.approx(value.high)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("3 x 40 ft", "length"),
        ("3 x 120 V", "voltage"),
        ("0 x 40 W", "power"),
        ("3 x", "power"),
        ("3 x 2 x 4 W", "power"),
        ("99 x 900 W", "power"),
        ("3 * 40 W", "power"),
        ("-3 x 40 W", "power"),
    ],
)
def test_only_loads_add_up(text, kind):
    with pytest.raises(QuantityError):
        read_interval(text, KINDS[kind])
