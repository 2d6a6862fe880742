"""A file of your own products, and one of them copied into a circuit file under its name: the file stands alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from circuitcheck.circuit.conversion import Converter
from circuitcheck.circuit.entries import KNOWN_BY, KNOWN_BY_KEY
from circuitcheck.circuit.faults import Faults, given_text
from circuitcheck.circuit.keys import SECTIONS, Key
from circuitcheck.circuit.short.light_keys import LIGHT, LIGHT_KEYS, NAME_IN_LIGHT
from circuitcheck.circuit.short.planned import stands_in_the_way
from circuitcheck.circuit.short.sections import written_section
from circuitcheck.circuit.toml_text import parsed
from circuitcheck.circuit.written.block import Block, blocks_of
from circuitcheck.circuit.written.entry_text import with_entry
from circuitcheck.errors import CircuitFileError, CommandError, nearest
from circuitcheck.quantities import without_word

Vocabulary = Mapping[str, tuple[str, ...]]

#: What a product may be, and which keys of the circuit file it may settle: what its label, carton or instructions say.
PRODUCT_KEYS: Mapping[str, tuple[str, ...]] = {
    "load": (
        "kind", "power", "apparent", "current", "power_factor", "min_voltage", "connection", "grounding", "weight",
        "mounting", "lamp", "enclosed", "listed", "location_marked", "metal_parts", "supply_temperature",
        "insulation_contact", "through_wiring_count", "through_wiring_size", "closet_marked", "combustible_clearance",
    ),
    "box": (
        "trade_size", "volume", "depth", "internal_clamps", "material", "mounting", "made_for", "support_limit",
        "fittings", "terminal_blocks",
    ),
    "driver": (
        "output_voltage", "output_kind", "output_power", "input_current", "input_power", "efficiency", "power_factor",
        "class_2", "min_voltage", "min_load", "outputs", "dimming",
    ),
    "low_voltage_load": (
        "power", "power_per_length", "resistance_per_length", "min_voltage", "kind",
    ),
    "control": (
        "kind", "ways", "rated_led", "rated_incandescent", "min_load", "max_lamps", "needs_neutral",
    ),
    "cable": ("type", "size", "conductors", "ground", "material", "stranding", "insulation_temperature", "sheath"),
}  # fmt: skip

#: The leads that a light brings into its box belong to the light as a product.
_LEADS = ("fixture_wires", "fixture_ground", "canopy")


@dataclass(frozen=True, slots=True)
class Product:
    """A product: its name, what it is (``light`` or a section), its entries, and how each is known."""

    name: str
    part: str
    entries: Mapping[str, Any]
    known_by: Mapping[str, str]


def keys_of(part: str) -> Mapping[str, Key]:
    """The keys that a product of this kind may have; empty for what is no kind of product."""
    if part == "light":
        names = [name for name, (owner, key) in LIGHT_KEYS.items() if owner == "load" and key in PRODUCT_KEYS["load"]]
        return {name: LIGHT.keys[name] for name in (*names, *_LEADS)}
    return {name: SECTIONS[part].keys[name] for name in PRODUCT_KEYS.get(part, ())}


def read_products(text: str, file: str, vocabulary: Vocabulary) -> dict[str, Product]:
    """The products of a file by name. Raises: CircuitFileError with every problem of it."""
    document = parsed(text, file)
    words = {f"product.{key.partition('.')[2]}": known for key, known in vocabulary.items() if "." in key}
    vocabulary = {**vocabulary, **words}
    faults = Faults(file, text, document)
    for name in document:
        if name != "product":
            near = faults.nearest(name, ("product",))
            faults.add((name,), "a products file holds [[product]] tables only", given=name, near=near)
    tables = document.get("product", [])
    products: dict[str, Product] = {}
    for index, table in enumerate(tables if isinstance(tables, list) else ()):
        product = _product(table, index, vocabulary, faults) if isinstance(table, dict) else None
        if product is not None and product.name in products:
            faults.add(("product", index, "name"), "this name is taken already", given=given_text(product.name))
        elif product is not None:
            products[product.name] = product
    if not isinstance(tables, list):
        faults.add(("product",), "write this section in double brackets: [[product]]", allowed="[[product]]")
    if faults:
        raise CircuitFileError(faults.problems())
    return products


def _product(table: dict[str, Any], index: int, vocabulary: Vocabulary, faults: Faults) -> Product | None:
    path: tuple[str | int, ...] = ("product", index)
    name, part = table.get("name"), table.get("part")
    kinds = ("light", *PRODUCT_KEYS)
    if not isinstance(name, str) or not name.strip():
        faults.add((*path, "name"), "a product has a name", allowed="a text in quotes")
        return None
    if part not in kinds:
        near = faults.meant(part, kinds, "sections") if isinstance(part, str) else None
        faults.add((*path, "part"), "part says what the product is", allowed=", ".join(kinds), near=near)
        return None
    keys = keys_of(part)
    entries: dict[str, Any] = {}
    for key, value in table.items():
        if key in ("name", "part", KNOWN_BY_KEY):
            continue
        if key not in keys:
            near = faults.meant(key, keys, "keys")
            faults.add((*path, key), f"a product for a {part.replace('_', ' ')} has no such key", given=key, near=near)
            continue
        entries[key] = value
        read = Converter(vocabulary, faults).entries({key: keys[key]}, {key: value}, (*path, key)[:-1])
        if not read and not faults.has((*path, key)):
            says = "this key takes another kind of value"
            allowed = keys[key].kind.allowed if keys[key].kind else ""  # type: ignore[union-attr]
            faults.add((*path, key), says, given=given_text(value), allowed=allowed)
    said = table.get(KNOWN_BY_KEY, {})
    how: dict[str, str] = said if isinstance(said, dict) else {}
    for key, word in how.items():
        if key not in entries:
            faults.add((*path, KNOWN_BY_KEY, key), "there is no such entry here", given=key)
        elif word not in KNOWN_BY:
            allowed = ", ".join(KNOWN_BY)
            faults.add((*path, KNOWN_BY_KEY, key), "this does not say how the entry is known", allowed=allowed)
    return Product(name, part, entries, how)


@dataclass(frozen=True, slots=True)
class Copied:
    """A circuit file's text with a product in it.

    ``written``: the keys that were set. ``kept``: those that the file says already. ``differing``: those of them under
    which the product says something else.
    """

    text: str
    written: tuple[str, ...]
    kept: tuple[str, ...]
    differing: tuple[str, ...]


def with_product(text: str, part_id: str, product: Product) -> Copied:
    """The text with the product in the part of that id. What the part says already stays as it is.

    Raises: CommandError where there is no such part to put it in; ValueError for tables written on one line.
    """
    blocks = blocks_of(text, parsed(text, ""))
    targets = _targets(blocks, part_id, product)
    if not targets:
        kinds = {"light": ("light", "load")}.get(product.part, (product.part,))
        names = [block.id for block in blocks if block.section in kinds and block.id]
        near = nearest(part_id, names)
        meant = f'; did you mean "{near}"?' if near else f"; there are {', '.join(names)}" if names else ""
        raise CommandError(f'no {product.part.replace("_", " ")} here is called "{part_id}"{meant}')
    texts = {block.number: block.text for block in blocks}
    written: list[str] = []
    kept: list[str] = []
    differing: list[str] = []
    for block, own_names in targets:
        entries = {own: product.entries[name] for name, own in own_names.items()}
        known = {own: product.known_by[name] for name, own in own_names.items() if name in product.known_by}
        new = {key: value for key, value in entries.items() if not _says(block, key)}
        written += new
        kept += [key for key in entries if key not in new]
        differing += [key for key in kept if key in entries and not _same(block.data.get(key), entries[key])]
        label = _name_key(block, product)
        texts[block.number] = _filled(block, {**new, label: product.name}, {k: w for k, w in known.items() if k in new})
    return Copied("".join(texts[block.number] for block in blocks), tuple(written), tuple(kept), tuple(differing))


def _targets(blocks: Sequence[Block], part_id: str, product: Product) -> list[tuple[Block, Mapping[str, str]]]:
    """The tables that take the product, each with the product's keys and what they are called there."""
    if product.part != "light":
        owner = product.part if product.part in ("box", "cable", "load") else ""
        for block in blocks:
            if block.section == product.part and block.id == part_id:
                return [(block, {key: key for key in product.entries})]
            if block.section == "light" and owner and _owner_id(block, owner) == part_id:
                return [(block, {key: NAME_IN_LIGHT[owner, key] for key in product.entries})]
        return []
    for block in blocks:
        if block.section == "light" and block.id == part_id:
            return [(block, {key: key for key in product.entries})]
    for block in blocks:
        if block.section == "load" and block.id == part_id:
            own = {key: LIGHT_KEYS[key][1] for key in product.entries if LIGHT_KEYS[key][0] == "load"}
            leads = {key: key for key in product.entries if key not in own}
            box = next((b for b in blocks if b.section == "box" and b.id == block.data.get("box")), None)
            return [(block, own), *([(box, leads)] if box is not None and leads else [])]
    return []


def _owner_id(light: Block, owner: str) -> object:
    return light.id if owner == "load" else light.data.get(f"{owner}_id", f"{light.id} {owner}")


def _name_key(block: Block, product: Product) -> str:
    """Under which key the product's name goes: in a light that of the part which the product is."""
    owner = "load" if product.part == "light" else product.part
    return NAME_IN_LIGHT[owner, "product"] if block.section == "light" else "product"


def _says(block: Block, key: str) -> bool:
    """Whether the part has this entry, or another one that says the same thing."""
    section, own = LIGHT_KEYS.get(key, ("", key)) if block.section == "light" else (block.section, key)
    names = (LIGHT_KEYS.get(name, ("", name)) if block.section == "light" else (section, name) for name in block.data)
    return stands_in_the_way(section, own, frozenset(name for owner, name in names if owner == section))


def _filled(block: Block, entries: Mapping[str, Any], known: Mapping[str, str]) -> str:
    described = written_section(block.section, {})
    order = (*(described.keys if described else ()), KNOWN_BY_KEY)
    text = block.text
    for key, value in entries.items():
        text = with_entry(text, key, value, order)
    old = block.data.get(KNOWN_BY_KEY)
    words = {**(old if isinstance(old, Mapping) else {}), **known}
    return with_entry(text, KNOWN_BY_KEY, words, order) if known else text


def _same(one: object, other: object) -> bool:
    """Whether two values are alike but for the word on how they are known."""
    if isinstance(one, str) and isinstance(other, str):
        return without_word(one).casefold() == without_word(other).casefold()
    return one == other
