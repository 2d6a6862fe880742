"""Products of your own beside the circuit file, and one of them copied into the part one stands on. No textual."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from circuitcheck.circuit.products import Product, read_products, with_product
from circuitcheck.circuit.toml_text import decoded, read_bytes
from circuitcheck.errors import CommandError
from circuitcheck.tables.rulebook import vocabulary
from circuitcheck.ui.workbench import Workbench

PRODUCTS = "products.toml"

#: What a product of each kind can be copied into.
_INTO = {"light": ("light", "load"), "box": ("box",), "cable": ("cable",), "load": ("load", "light")}


def products_for(bench: Workbench) -> Mapping[str, Product]:
    """The products of the file beside the circuit file, or of the current folder, that fit the part one stands on.

    Raises: CommandError where there is no such file or it cannot be read; CircuitFileError where it is wrong.
    """
    beside = bench.document.path.parent / PRODUCTS
    path = beside if beside.exists() else Path(PRODUCTS)
    if not path.exists():
        raise CommandError(f"There is no {PRODUCTS} beside the circuit file.")
    products = read_products(decoded(read_bytes(path), str(path)), str(path), vocabulary())
    section = bench.part.section
    return {name: one for name, one in products.items() if section in _INTO.get(one.part, (one.part,))}


def copy_product(bench: Workbench, product: Product) -> str:
    """Copies a product into the part one stands on; what was done, as a sentence. Undo takes it back.

    Raises: CommandError, ValueError where the part cannot take it; CircuitFileError.
    """
    part = bench.part
    name = part.id
    copied = with_product(bench.document.text, name, product)
    bench.document.replace_all(f"product {product.name} in {name}", copied.text)
    again = next((block for block in bench.document.blocks if (block.section, block.id) == (part.section, name)), None)
    if again is not None:
        bench.standing = again.number
    kept = f" Left as it was: {', '.join(copied.kept)}." if copied.kept else ""
    differ = f" Look again: the product says something else under {', '.join(copied.differing)}."
    return f"{name} is {product.name}.{differ if copied.differing else kept}"
