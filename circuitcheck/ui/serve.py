"""The same screens in a browser, through textual-serve: for a tablet at the box."""

from __future__ import annotations

import ipaddress
import secrets
import socket
import sys
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from circuitcheck.errors import CommandError

if TYPE_CHECKING:
    from circuitcheck.ui.served_sessions import GuardedServer

_NEEDED = "a browser needs the extra serve: in the project's folder, python -m pip install '.[serve]'"

#: Random bytes of the part of the address that only whoever reads it here knows.
TOKEN_BYTES = 16


def serve(file: Path, host: str, port: int, url: str | None = None) -> int:
    """Serves the screens on ``file`` until stopped. Returns the exit status, which names the signal that stopped it.

    ``url`` is the address that browsers use, where it is not the one listened on.

    Raises: CommandError when textual-serve is missing, the port is out of range, or the address cannot be listened on.
    """
    if not 1 <= port <= 65535:
        raise CommandError(f"there is no port {port}: take one from 1024 to 65535")
    address = (url or f"http://{_host_in_url(reached_as(host))}:{port}").rstrip("/")
    token = secrets.token_urlsafe(TOKEN_BYTES)
    server = guarded_server(file, host, port, address, token)
    _refuse_taken_address(host, port)
    if not is_loopback(host):
        sys.stderr.write(open_warning(host, port) + "\n")
    sys.stderr.write(f"Open {address}/{token}/ in a browser. Ctrl+C here stops it.\n")
    sys.stderr.flush()
    server.serve()
    return 128 + server.stopped_by if server.stopped_by else 0


def guarded_server(file: Path, host: str, port: int, address: str, token: str) -> GuardedServer:
    """A server that lets in only its own page, and only who knows the token.

    Another page in the same browser, or another user of this machine, could else work in the file.

    Raises: CommandError when textual-serve is not installed.
    """
    try:
        from circuitcheck.ui.served_sessions import GuardedServer
    except ImportError:
        raise CommandError(_NEEDED) from None
    return GuardedServer(file, host, port, address, token, lambda origin: is_own_origin(origin, address))


def is_own_origin(origin: str, address: str) -> bool:
    """Whether a page of this origin is the one served at ``address`` (the names of this machine count as one)."""
    theirs, ours = urlsplit(origin), urlsplit(address)
    try:
        same_port = theirs.port == ours.port
    except ValueError:
        return False
    if theirs.scheme != ours.scheme or not same_port:
        return False
    if theirs.hostname == ours.hostname:
        return True
    return is_loopback(theirs.hostname or "") and is_loopback(ours.hostname or "")


def is_loopback(host: str) -> bool:
    """Whether only programs on this machine can reach the address."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def reached_as(host: str) -> str:
    """The address under which others reach a server that listens on ``host``."""
    if host not in ("0.0.0.0", "::", ""):  # noqa: S104  (named to find out, not to listen on)
        return host
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # a documentation address: nothing is sent, the route is looked up
            return str(probe.getsockname()[0])
        except OSError:
            return "127.0.0.1"


def _host_in_url(host: str) -> str:
    return f"[{host}]" if ":" in host else host


def _refuse_taken_address(host: str, port: int) -> None:
    """Says at once when the address cannot be listened on. Raises CommandError."""
    try:
        for family, kind, protocol, _, address in socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[:1]:
            with socket.socket(family, kind, protocol) as probe:
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
                probe.bind(address)
    except OSError as trouble:
        raise CommandError(f"{host} port {port} cannot be listened on: {trouble.strerror or trouble}") from None


def open_warning(host: str, port: int) -> str:
    """What to know before other machines are let in."""
    return (
        f"Warning: {host} port {port} can be reached from other machines. Whoever knows the address below can read and "
        "change files in your name, and nothing is encrypted, so others on the network can read it on the way. "
        "Use it on a network you trust, and stop it afterwards."
    )
