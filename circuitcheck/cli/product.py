"""``circuitcheck product NAME FILE --part ID -o NEW``: one of your own products copied into a circuit file."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from circuitcheck.cli import statuses
from circuitcheck.cli.streams import put
from circuitcheck.errors import CommandError, nearest
from circuitcheck.text import shown_text

if TYPE_CHECKING:
    from circuitcheck.circuit.products import Product

#: Where the products are looked for: beside the circuit file, else where one stands.
PRODUCTS = "products.toml"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the product, the circuit file and the part."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="the product; without it, list them all")
    parser.add_argument("file", nargs="?", metavar="FILE", help="circuit file (*.circuit.toml)")
    parser.add_argument("--part", metavar="ID", help="the part of the circuit that the product is")
    parser.add_argument("-o", "--output", metavar="NEW", type=Path, help="circuit file to write")
    parser.add_argument("--replace", action="store_true", help="replace NEW if it already exists")
    parser.add_argument("--products", metavar="FILE", type=Path, help=f"your products (default: {PRODUCTS})")


def run(arguments: argparse.Namespace) -> int:
    """List the products, or copy one. Returns 0; a file that cannot be read is told as ``check`` tells it."""
    if arguments.name is None:
        put("".join(f"{shown_text(line)}\n" for line in _listing(_products(arguments))))
        return statuses.FITS
    if arguments.file is None or arguments.part is None or arguments.output is None:
        raise CommandError("say where the product goes: circuitcheck product NAME FILE --part ID -o NEW")
    return _copy(arguments)


def _copy(arguments: argparse.Namespace) -> int:
    from circuitcheck.circuit.products import with_product
    from circuitcheck.circuit.reader import read_circuit
    from circuitcheck.circuit.toml_text import decoded, read_bytes
    from circuitcheck.paper.writing import refuse_existing, write_whole
    from circuitcheck.tables.rulebook import vocabulary

    output: Path = arguments.output
    refuse_existing(output, replace=arguments.replace)
    products = _products(arguments)
    product = products.get(arguments.name)
    if product is None:
        near = nearest(arguments.name, products)
        meant = f'; did you mean "{near}"?' if near else f"; there are {', '.join(products)}" if products else ""
        raise CommandError(f'there is no product "{arguments.name}"{meant}')
    text = decoded(read_bytes(Path(arguments.file)), arguments.file)
    read_circuit(text, arguments.file, vocabulary())
    try:
        copied = with_product(text, arguments.part, product)
    except ValueError as error:
        raise CommandError(
            f"{arguments.file}: {error}; write each table under a header of its own, such as [[box]]"
        ) from error
    read_circuit(copied.text, str(output), vocabulary())
    write_whole(output, copied.text.encode(), replace=arguments.replace)
    put(shown_text(f"Wrote {output}: {arguments.part} is {product.name}.") + "\n")
    if copied.written:
        put(shown_text(f"Set: {', '.join(copied.written)}.") + "\n")
    if copied.kept:
        put(shown_text(f"Left as the file has it: {', '.join(copied.kept)}.") + "\n")
    if copied.differing:
        put(shown_text(f"Look again: the product says something else under {', '.join(copied.differing)}.") + "\n")
    return statuses.FITS


def _products(arguments: argparse.Namespace) -> Mapping[str, Product]:
    from circuitcheck.circuit.products import read_products
    from circuitcheck.circuit.toml_text import decoded, read_bytes
    from circuitcheck.tables.rulebook import vocabulary

    beside = Path(arguments.file or ".").parent / PRODUCTS
    path: Path = arguments.products or (beside if beside.exists() else Path(PRODUCTS))
    if not arguments.products and not path.exists():
        raise CommandError(f"there is no {PRODUCTS} here; --products names another file")
    return read_products(decoded(read_bytes(path), str(path)), str(path), vocabulary())


def _listing(products: Mapping[str, Product]) -> Iterator[str]:
    for product in products.values():
        yield f"{product.name} ({product.part.replace('_', ' ')}): {', '.join(product.entries)}"
    if not products:
        yield "No products yet."
