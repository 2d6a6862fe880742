"""``circuitcheck serve FILE``: the terminal screens in a browser, on this machine unless told otherwise."""

from __future__ import annotations

import argparse
from pathlib import Path


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the file and the address to listen on."""
    parser.add_argument("file", metavar="FILE", type=Path, help="circuit file (*.circuit.toml)")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on (default: this machine only)")
    parser.add_argument("--public-url", metavar="URL", help="address under which browsers reach it, behind a proxy")
    parser.add_argument("--port", type=int, default=8000, help="port to listen on (default: 8000)")


def run(arguments: argparse.Namespace) -> int:
    """Serve the screens until stopped."""
    from circuitcheck.ui.serve import serve

    return serve(arguments.file, arguments.host, arguments.port, arguments.public_url)
