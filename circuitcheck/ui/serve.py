"""The same screens in a browser, through textual-serve: for a tablet at the box."""

from __future__ import annotations

import ipaddress
import shlex
import sys
from pathlib import Path

from circuitcheck.errors import CommandError

_NEEDED = "the extra that serves screens is not installed: pip install 'circuitcheck[serve]'"


def serve(file: Path, host: str, port: int, public_url: str | None = None) -> int:
    """Serves the screens on ``file`` until stopped. Returns the exit status.

    Raises: CommandError when textual-serve is missing, the port is out of range, or the address cannot be listened on.
    """
    if not 1 <= port <= 65535:
        raise CommandError(f"there is no port {port}: take one from 1024 to 65535")
    try:
        from textual_serve.server import Server
    except ImportError:
        raise CommandError(_NEEDED) from None
    if not is_loopback(host):
        print(open_warning(host, port), file=sys.stderr)
    command = shlex.join([sys.executable, "-m", "circuitcheck", "edit", str(file)])
    server = Server(command, host=host, port=port, title="circuitcheck", public_url=public_url)
    try:
        server.serve()
    except OSError as trouble:
        raise CommandError(f"{host} port {port} cannot be listened on: {trouble.strerror or trouble}") from None
    return 0


def is_loopback(host: str) -> bool:
    """Whether only programs on this machine can reach the address."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def open_warning(host: str, port: int) -> str:
    """What to know before other machines are let in."""
    return (
        f"Warning: {host} port {port} can be reached from other machines. Whoever reaches it can read and change files "
        "in your name: there is no password and no encryption. Use it on a network you trust, and stop it afterwards."
    )
