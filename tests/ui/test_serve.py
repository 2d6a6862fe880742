"""The screens in a real browser, driven over its debugging protocol; and who is let in."""

import asyncio
import base64
import contextlib
import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from dataclasses import dataclass
from pathlib import Path

import pytest

from circuitcheck.errors import CommandError
from circuitcheck.ui.document.disk import is_running
from circuitcheck.ui.serve import is_loopback, is_own_origin, open_warning, serve

CHROMIUM = next(
    (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), None
)


#: One process serves and browses: a second browser beside would only slow down both.
pytestmark = pytest.mark.xdist_group("serve")


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@dataclass(frozen=True)
class Served:
    """A server that runs: its process, its port, and the whole address that it printed."""

    process: subprocess.Popen[bytes]
    port: int
    address: str

    @property
    def socket_address(self) -> str:
        return self.address + "ws"

    @property
    def origin(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def children(self) -> list[int]:
        """The programs of its sessions."""
        ran = subprocess.run(["ps", "-o", "pid=", "--ppid", str(self.process.pid)], capture_output=True, check=False)
        return [int(number) for number in ran.stdout.split()]


@pytest.fixture
def server(hallway: Path):
    """``circuitcheck serve`` on a free port of this machine."""
    port = free_port()
    process = subprocess.Popen(
        [sys.executable, "-m", "circuitcheck", "serve", str(hallway), "--port", str(port)],
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, start_new_session=True,
    )  # fmt: skip
    try:
        printed = process.stderr.readline().decode()
        address = next(word for word in printed.split() if word.startswith("http"))
        end = time.monotonic() + 30
        while True:
            try:
                with socket.create_connection(("127.0.0.1", port), timeout=1):
                    break
            except OSError:
                assert process.poll() is None, process.stderr.read()
                assert time.monotonic() < end
                time.sleep(0.1)
        yield Served(process, port, address)
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGTERM)
        process.wait(timeout=20)
        process.stderr.close()


class Browser:
    """A page in Chromium, over its debugging protocol."""

    def __init__(self, socket) -> None:
        self._socket = socket
        self._number = 0
        self.requests: list[str] = []
        self.errors: list[str] = []

    async def call(self, method: str, **parameters):
        """The result of one call; what else comes in meanwhile is noted."""
        self._number += 1
        await self._socket.send_json({"id": self._number, "method": method, "params": parameters})
        while True:
            message = await self._socket.receive_json(timeout=30)
            self._note(message)
            if message.get("id") == self._number:
                assert "error" not in message, message
                return message["result"]

    def _note(self, message) -> None:
        if message.get("method") == "Network.requestWillBeSent":
            self.requests.append(message["params"]["request"]["url"])
        elif message.get("method") == "Network.webSocketCreated":
            self.requests.append(message["params"]["url"])
        elif message.get("method") == "Runtime.exceptionThrown":
            self.errors.append(json.dumps(message["params"])[:400])

    async def press(self, key: str, text: str = "") -> None:
        codes = {"Enter": 13, "End": 35, "Escape": 27, "ArrowDown": 40}
        common = {"key": key, "windowsVirtualKeyCode": codes.get(key, ord(key[0].upper()))}
        await self.call("Input.dispatchKeyEvent", type="keyDown", text=text, **common)
        await self.call("Input.dispatchKeyEvent", type="keyUp", **common)

    async def click(self, x: int, y: int) -> None:
        for kind in ("mousePressed", "mouseReleased"):
            await self.call("Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left", clickCount=1)

    async def picture(self) -> bytes:
        return base64.b64decode((await self.call("Page.captureScreenshot", format="png"))["data"])


#: A phone, as the browser emulates one; at one dot a pixel, since it says the terminal no other size.
PHONE = {"width": 390, "height": 844, "deviceScaleFactor": 1, "mobile": True}

TOUCH_SIZES = """JSON.stringify([...document.querySelectorAll(".touch-keys button")].map((button) => {
  const box = button.getBoundingClientRect();
  const name = button.getAttribute("aria-label") || button.textContent;
  return { name, width: box.width, height: box.height, left: box.left, right: box.right };
}))"""


@pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed")
async def test_driven_in_a_real_browser(server: Served, hallway: Path, tmp_path: Path) -> None:
    import aiohttp

    profile = tmp_path / "profile"
    options = (
        "--headless=new", "--no-sandbox", "--disable-gpu", "--remote-debugging-port=0", "--window-size=1280,800",
        f"--user-data-dir={profile}", "--no-first-run", "--disable-background-networking", "about:blank",
    )  # fmt: skip
    quiet = subprocess.DEVNULL
    chromium = subprocess.Popen([CHROMIUM, *options], stdout=quiet, stderr=quiet, start_new_session=True)
    try:
        waiting = time.monotonic() + 30
        while not (profile / "DevToolsActivePort").exists():
            assert time.monotonic() < waiting
            await asyncio.sleep(0.1)
        port = (profile / "DevToolsActivePort").read_text().split()[0]
        async with aiohttp.ClientSession() as session:
            async with session.get(f"http://127.0.0.1:{port}/json/list") as answer:
                page = next(entry for entry in await answer.json() if entry["type"] == "page")
            async with session.ws_connect(page["webSocketDebuggerUrl"], max_msg_size=0) as connection:
                browser = Browser(connection)
                for domain in ("Page", "Network", "Runtime"):
                    await browser.call(f"{domain}.enable")
                await browser.call("Emulation.setFocusEmulationEnabled", enabled=True)
                blank = await browser.picture()
                await browser.call("Page.navigate", url=server.address)
                state = "document.body ? document.body.className : ''"
                await until(lambda: browser.call("Runtime.evaluate", expression=state), "-first-byte")
                await asyncio.sleep(2.5)  # the first screen, with its findings
                first = await browser.picture()
                assert first != blank
                if wanted := os.environ.get("CIRCUITCHECK_PICTURE"):
                    Path(wanted).write_bytes(first)
                await browser.press("ArrowDown")  # without a click first
                await asyncio.sleep(0.3)
                await browser.press("End")
                await asyncio.sleep(0.3)
                await browser.press("d", "d")
                await asyncio.sleep(0.5)
                await browser.press("s", "s")
                end = time.monotonic() + 20
                while "wall light 4" not in hallway.read_text("utf-8"):
                    assert time.monotonic() < end, "the keys did not reach the screens"
                    await asyncio.sleep(0.1)
                await asyncio.sleep(0.5)
                second = await browser.picture()
                assert second != first
                (tmp_path / "browser.png").write_bytes(second)
                if wanted := os.environ.get("CIRCUITCHECK_PICTURE"):
                    Path(wanted).write_bytes(second)
                await browser.call("Emulation.setDeviceMetricsOverride", **PHONE)
                await asyncio.sleep(1)
                sizes = await browser.call("Runtime.evaluate", expression=TOUCH_SIZES)
                keys = json.loads(sizes["result"]["value"])
                assert [key["name"] for key in keys] == ["Back", "Up", "Down", "Next", "Enter", "Help"]
                assert all(key["width"] >= 44 and key["height"] >= 44 for key in keys), "large enough for a finger"
                assert all(key["left"] >= 0 and key["right"] <= 390 for key in keys)
                assert browser.errors == []
                elsewhere = [
                    url for url in browser.requests if f"127.0.0.1:{server.port}" not in url and "data:" not in url
                ]
                assert elsewhere == [], "nothing is loaded from another machine"
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(chromium.pid, signal.SIGKILL)
        chromium.wait()


async def until(ask, wanted: str) -> None:
    """Ask until the answer holds what is wanted."""
    end = time.monotonic() + 30
    while wanted not in json.dumps(await ask()):
        assert time.monotonic() < end
        await asyncio.sleep(0.1)


async def test_a_page_of_another_site_is_not_let_in(server: Served) -> None:
    import aiohttp

    async with aiohttp.ClientSession() as session:
        for origin in (
            "http://example.com",
            f"http://example.com:{server.port}",
            "null",
            f"https://127.0.0.1:{server.port}",
        ):
            with pytest.raises(aiohttp.WSServerHandshakeError) as refused:
                await session.ws_connect(server.socket_address, headers={"Origin": origin})
            assert refused.value.status == 403, origin
        with urllib.request.urlopen(server.address) as answer:
            page = answer.read().decode()
        assert "https://" not in page


def test_it_listens_on_this_machine_only_unless_told(server: Served) -> None:
    hosts = {entry[4][0] for entry in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)}
    for host in hosts - {"127.0.0.1", "127.0.1.1"}:
        with pytest.raises(ConnectionRefusedError):
            socket.create_connection((host, server.port), timeout=2).close()


def test_a_warning_when_others_can_reach_it() -> None:
    assert is_loopback("127.0.0.1")
    assert is_loopback("localhost")
    assert is_loopback("::1")
    assert not is_loopback("0.0.0.0")
    assert not is_loopback("192.0.2.7")
    assert not is_loopback("tablet.example")
    assert "nothing is encrypted" in open_warning("0.0.0.0", 8000)


@pytest.mark.parametrize(
    ("origin", "own"),
    [
        ("http://127.0.0.1:8000", True),
        ("http://localhost:8000", True),
        ("http://127.0.0.1:8001", False),
        ("http://evil.example:8000", False),
        ("", False),
        ("null", False),
        ("http://127.0.0.1:port", False),
    ],
)
def test_which_page_is_its_own(origin: str, own: bool) -> None:
    assert is_own_origin(origin, "http://127.0.0.1:8000") is own


def test_what_cannot_be_served_is_said() -> None:
    with pytest.raises(CommandError, match="no port"):
        serve(Path("x"), "127.0.0.1", 0)
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        with pytest.raises(CommandError, match="cannot be listened on"):
            serve(Path("x"), "127.0.0.1", taken.getsockname()[1])


async def test_nobody_gets_in_without_the_token(server: Served) -> None:
    import aiohttp

    assert len(server.address.removeprefix(server.origin).strip("/")) >= 22, "128 random bits"
    wrong = ("/", "/ws", "/static/js/textual.js", "/x/", server.address.removeprefix(server.origin)[:-2] + "/")
    for path in wrong:
        with pytest.raises(urllib.error.HTTPError) as refused:
            urllib.request.urlopen(server.origin + path)
        assert refused.value.code == 404, path
        assert "whole address" in refused.value.read().decode()
    async with aiohttp.ClientSession() as session:
        with pytest.raises(aiohttp.WSServerHandshakeError):
            await session.ws_connect(server.origin + "/ws", headers={"Origin": server.origin})


async def first_screen(connection) -> None:
    """Wait until a session draws."""
    await connection.receive(timeout=30)


@pytest.mark.skipif(os.name != "posix", reason="sends signals")
@pytest.mark.parametrize(("number", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, 143), (signal.SIGKILL, -9)])
async def test_it_ends_with_browsers_connected_and_so_does_every_session(
    server: Served, number: signal.Signals, status: int
) -> None:
    import aiohttp

    async with aiohttp.ClientSession() as session:
        connections = [
            await session.ws_connect(server.socket_address, headers={"Origin": server.origin}) for _ in range(2)
        ]
        for connection in connections:
            await first_screen(connection)
        children = server.children()
        assert len(children) == 2
        began = time.monotonic()
        server.process.send_signal(number)  # to the server alone, not to the group
        assert await asyncio.to_thread(server.process.wait, 20) == status
        assert time.monotonic() - began < 15
    while any(is_running(child) for child in children):
        assert time.monotonic() - began < 30, "a session outlives the server"
        await asyncio.sleep(0.2)


async def test_sessions_are_counted_and_a_closed_one_makes_room(server: Served) -> None:
    import aiohttp

    from circuitcheck.ui.served_sessions import MOST_SESSIONS

    async with aiohttp.ClientSession() as session:

        async def connected():
            return await session.ws_connect(server.socket_address, headers={"Origin": server.origin})

        connections = [await connected() for _ in range(MOST_SESSIONS)]
        with pytest.raises(aiohttp.WSServerHandshakeError) as refused:
            await connected()
        assert refused.value.status == 503
        await first_screen(connections[0])
        await connections[0].close()
        end = time.monotonic() + 20
        while True:
            try:
                await connected()
                break
            except aiohttp.WSServerHandshakeError:
                assert time.monotonic() < end
                await asyncio.sleep(0.2)


async def test_a_browser_cannot_ask_for_a_screen_of_any_size(server: Served) -> None:
    import aiohttp

    async with aiohttp.ClientSession() as session:
        address = server.socket_address + "?width=1000000&height=1000000"
        connection = await session.ws_connect(address, headers={"Origin": server.origin})
        await first_screen(connection)
        await connection.send_json(["resize", {"width": 10**9, "height": "x"}])
        await connection.send_json(["ping", "still here"])
        end = time.monotonic() + 30
        while True:
            assert time.monotonic() < end
            message = await connection.receive(timeout=30)
            if message.type is aiohttp.WSMsgType.TEXT:
                assert json.loads(message.data) == ["pong", "still here"]
                break
        (child,) = server.children()
        memory_kb = int(Path(f"/proc/{child}/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") // 1024
        assert memory_kb < 400_000
        await connection.send_str("[]")  # nothing that our page sends
        while not connection.closed:
            await connection.receive(timeout=30)


@pytest.mark.parametrize(
    ("given", "held"),
    [("80", 80), (0, 20), (10**30, 500), ("x", 20), (None, 20), ([], 20), (float("nan"), 20), (float("inf"), 20)],
)
def test_a_size_is_held_between_its_ends(given: object, held: int) -> None:
    from circuitcheck.ui.served_sessions import COLUMNS, within

    assert within(given, COLUMNS) == held


def test_one_option_names_the_address_of_a_proxy() -> None:
    import argparse

    from circuitcheck.cli.serve import add_arguments

    parser = argparse.ArgumentParser()
    add_arguments(parser)
    assert {option for action in parser._actions for option in action.option_strings} == {
        "-h", "--help", "--host", "--port", "--public-url",
    }  # fmt: skip


def test_a_visitor_starts_this_program_again(monkeypatch) -> None:
    """Python with our package; where the program is built into one file, that file by itself."""
    from circuitcheck.ui.serve import guarded_server

    def command() -> str:
        server = guarded_server(Path("a house.circuit.toml"), "127.0.0.1", 8000, "http://127.0.0.1:8000", "token")
        return server.command.removeprefix("exec ")

    assert command() == f"{sys.executable} -m circuitcheck edit 'a house.circuit.toml'"
    monkeypatch.setattr(sys, "frozen", True, raising=False)
    monkeypatch.setattr(sys, "executable", "/opt/circuitcheck")
    assert command() == "/opt/circuitcheck edit 'a house.circuit.toml'"
