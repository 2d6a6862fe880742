"""Products: read with every problem told, and copied into a part without touching what the part says already."""

from pathlib import Path

import pytest

from circuitcheck.circuit.products import PRODUCT_KEYS, keys_of, read_products, with_product
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.circuit.short.planned import may_be_default
from circuitcheck.errors import CircuitFileError, CommandError
from circuitcheck.tables.rulebook import vocabulary

TOP = Path(__file__).parents[2]
PRODUCTS = (TOP / "examples" / "products.toml").read_text("utf-8")
ONE = (Path(__file__).with_name("short") / "one-light.circuit.toml").read_text("utf-8")
HALLWAY = (TOP / "examples" / "hallway.circuit.toml").read_text("utf-8")


def products(text: str = PRODUCTS):
    return read_products(text, "products.toml", vocabulary())


def circuit(text: str):
    return read_circuit(text, "some", vocabulary())


def test_a_light_takes_what_it_does_not_say_itself():
    copied = with_product(ONE, "wall", products()["round wall light"])
    load = next(load for load in circuit(copied.text).loads if load.id == "wall")
    assert (load.power_w.text, load.weight_kg.text) == ("60 W", "3 lb")
    assert (load.min_voltage_v.text, load.listed, load.product) == ("label 108 V", True, "round wall light")
    assert load.known_by == {"listed": "label", "connection": "label"}
    box = next(box for box in circuit(copied.text).boxes if box.id == "wall box")
    assert [(wires.size, wires.count) for wires in box.fixture_wires] == [("18 AWG", 2)]
    assert "power" in copied.kept
    assert copied.differing == ()


def test_what_the_product_says_otherwise_is_told_and_not_written():
    copied = with_product(ONE.replace('weight = "3 lb"', 'weight = "5 lb"'), "wall", products()["round wall light"])
    assert copied.differing == ("weight",)
    assert 'weight = "5 lb"' in copied.text


@pytest.mark.parametrize(
    ("name", "part", "where"),
    [
        ("round wall light", "wall light 1", ("loads", "wall light 1")),
        ("single-gang remodel box, 16 in^3", "wall 1", ("boxes", "wall 1")),
        ("14/2 cable", "to wall 1", ("cables", "to wall 1")),
    ],
)
def test_a_part_in_the_long_form_takes_it_too(name, part, where):
    copied = with_product(HALLWAY, part, products()[name])
    found = next(one for one in getattr(circuit(copied.text), where[0]) if one.id == where[1])
    assert found.product == name


def test_a_box_and_a_cable_of_a_light_are_named_by_their_own_names():
    text = with_product(ONE, "wall box", products()["single-gang remodel box, 16 in^3"]).text
    text = with_product(text, "wall cable", products()["14/2 cable"]).text
    read = circuit(text)
    assert next(box for box in read.boxes if box.id == "wall box").product == "single-gang remodel box, 16 in^3"
    cable = next(cable for cable in read.cables if cable.id == "wall cable")
    assert (cable.product, cable.material, cable.size) == ("14/2 cable", "copper", "14 AWG")


def test_a_part_that_is_not_there_is_told():
    with pytest.raises(CommandError, match='did you mean "wall"'):
        with_product(ONE, "walll", products()["round wall light"])
    with pytest.raises(CommandError, match="no box here"):
        with_product(ONE, "wall", products()["single-gang remodel box, 16 in^3"])


@pytest.mark.parametrize(
    ("text", "line", "key"),
    [
        ('[[product]]\npart = "light"\n', 1, "product.#1.name"),
        ('[[product]]\nname = "a"\npart = "lamp"\n', 3, "product.#1.part"),
        ('[[product]]\nname = "a"\npart = "light"\nlength = "3 ft"\n', 4, "product.#1.length"),
        ('[[product]]\nname = "a"\npart = "light"\nweight = "3 W"\n', 4, "product.#1.weight"),
        ('[[product]]\nname = "a"\npart = "light"\nweight = 3\n', 4, "product.#1.weight"),
        ('[[product]]\nname = "a"\npart = "box"\ntrade_size = "4 octagon"\n', 4, "product.#1.trade_size"),
        ('[[product]]\nname = "a"\npart = "cable"\nknown_by = { type = "label" }\n', 4, "product.#1.known_by.type"),
        ('[[products]]\nname = "a"\n', 1, "products"),
        ('[product]\nname = "a"\n', 1, "product"),
    ],
)
def test_what_is_wrong_with_a_products_file(text, line, key):
    with pytest.raises(CircuitFileError) as caught:
        products(text)
    assert [(problem.line, problem.key) for problem in caught.value.problems] == [(line, key)]


def test_a_product_settles_nothing_that_its_place_does():
    """No length, no room, no neighbour: those are found out where the part is."""
    for part, names in PRODUCT_KEYS.items():
        assert not {"id", "origin", "from", "to", "box", "length", "room", "place", "neutral"} & set(names), part
        assert keys_of(part)
    assert not any(may_be_default("load", key) for key in PRODUCT_KEYS["load"])
    assert keys_of("strip") == {}
