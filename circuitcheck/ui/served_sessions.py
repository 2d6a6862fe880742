"""The server behind ``circuitcheck serve``: who is let in, how many at a time, and that every session ends with it."""

from __future__ import annotations

import asyncio
import json
import os
import shlex
import signal
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

from aiohttp import WSMsgType, web
from aiohttp.web_runner import GracefulExit
from textual_serve.app_service import AppService
from textual_serve.server import Server

#: Our own page: nothing on it comes from another machine.
_PAGE = Path(__file__).parent / "served"

#: Each session is a program of its own with the whole file in memory; nobody needs more at a time on one file.
MOST_SESSIONS = 8

#: Columns and rows that a browser may ask for: a drawn screen takes memory in step with their product.
COLUMNS, ROWS = (20, 500), (5, 200)

#: How long a session may take to end by itself [s].
PATIENCE_S = 5.0

#: Wrong addresses and other sites' pages get this and nothing else.
_ELSEWHERE = "Open the whole address that circuitcheck printed when it began to serve."


def within(value: Any, ends: tuple[int, int]) -> int:
    """A number from a browser, held between these ends; the lower one for what is no number."""
    try:
        return min(ends[1], max(ends[0], int(value)))
    except (TypeError, ValueError, OverflowError):
        return ends[0]


def _this_program() -> list[str]:
    """What starts this program: Python with our package, or the program itself where it is built into one file."""
    return [sys.executable] if getattr(sys, "frozen", False) else [sys.executable, "-m", "circuitcheck"]


class Session(AppService):
    """One browser's program."""

    async def end(self) -> None:
        """Asks the program to end, and ends it where it does not."""
        try:
            await asyncio.wait_for(self.stop(), PATIENCE_S)
        except (TimeoutError, OSError):
            if self._process is not None:
                with suppress(ProcessLookupError):
                    self._process.kill()


class GuardedServer(Server):
    """Serves one file to browsers that know the address with its token."""

    def __init__(self, file: Path, host: str, port: int, address: str, token: str, own: Callable[[str], bool]) -> None:
        """``address``: what browsers use, without the token. ``own``: whether an origin is the page served here."""
        command = shlex.join([*_this_program(), "edit", str(file)])
        if os.name == "posix":
            command = f"exec {command}"  # no shell stays between the server and the session's program
        super().__init__(
            command, host=host, port=port, title="circuitcheck", public_url=address, templates_path=str(_PAGE)
        )
        self._token = token
        self._own = own
        self._sessions: set[asyncio.Task[Any]] = set()
        self.stopped_by = 0

    async def _make_app(self) -> web.Application:
        """Everything stands under the token; there is nothing beside it."""
        inner = await super()._make_app()
        outer = web.Application()
        outer.add_subapp(f"/{self._token}", inner)
        outer.router.add_route("*", "/{rest:.*}", self._elsewhere)
        return outer

    async def _elsewhere(self, _: web.Request) -> web.Response:
        return web.Response(status=404, text=_ELSEWHERE)

    async def on_startup(self, _: web.Application) -> None:
        """Listens to the signals that end it."""
        for number in (signal.SIGINT, signal.SIGTERM):
            with suppress(NotImplementedError):
                asyncio.get_running_loop().add_signal_handler(number, self._stop, number)

    def _stop(self, number: signal.Signals) -> None:
        self.stopped_by = number
        raise GracefulExit

    async def on_shutdown(self, _: web.Application) -> None:
        """Ends every session, so that no browser keeps the server alive and no program outlives it."""
        sessions = list(self._sessions)
        for session in sessions:
            session.cancel()
        if sessions:
            await asyncio.wait(sessions, timeout=2 * PATIENCE_S)

    async def handle_websocket(self, request: web.Request) -> web.WebSocketResponse:
        """The connection that carries keys and screen: one program for each, while there is room for it."""
        if not self._own(request.headers.get("Origin", "")):
            raise web.HTTPForbidden(text=_ELSEWHERE)
        if len(self._sessions) >= MOST_SESSIONS:
            raise web.HTTPServiceUnavailable(text=f"{MOST_SESSIONS} sessions are open already; close one of them.")
        task = asyncio.current_task()
        if task is None:
            raise web.HTTPServiceUnavailable
        self._sessions.add(task)
        try:
            return await self._session(request)
        finally:
            self._sessions.discard(task)

    async def _session(self, request: web.Request) -> web.WebSocketResponse:
        connection = web.WebSocketResponse(heartbeat=15)
        await connection.prepare(request)

        async def close() -> None:
            await connection.close()

        session = Session(
            self.command,
            write_bytes=connection.send_bytes,
            write_str=connection.send_str,
            close=close,
            download_manager=self.download_manager,
        )
        columns = within(request.query.get("width", "80"), COLUMNS)
        await session.start(columns, within(request.query.get("height", "24"), ROWS))
        try:
            async for message in connection:
                if message.type is WSMsgType.TEXT and not await self._taken(message.data, session, connection):
                    break
        except asyncio.CancelledError:
            pass  # the server ends
        finally:
            await session.end()
            await connection.close()
        return connection

    async def _taken(self, text: str, session: Session, connection: web.WebSocketResponse) -> bool:
        """Does what a message of the page asks; False for one that our page does not send."""
        try:
            kind, *more = json.loads(text)
            if kind == "stdin":
                await session.send_bytes(more[0].encode("utf-8"))
            elif kind == "resize":
                size = more[0]
                await session.set_terminal_size(within(size["width"], COLUMNS), within(size["height"], ROWS))
            elif kind == "ping":
                await connection.send_json(["pong", *more[:1]])
            elif kind == "blur":
                await session.blur()
            elif kind == "focus":
                await session.focus()
        except (ValueError, TypeError, KeyError, IndexError, AttributeError):
            return False
        return True
