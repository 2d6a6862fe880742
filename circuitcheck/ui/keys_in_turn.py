"""Keys take effect in the order in which they were pressed, also when many arrive at once, as over a slow link.

The toolkit hands each key to the widget that has the focus at that moment, before what the keys ahead of it do has
happened: letters would reach a field before the Backspace pressed ahead of them, and keys pressed after Enter a field
that Enter closes. So a key waits until everything that the one before it set going is done.
"""

from __future__ import annotations

import asyncio
from collections import deque
from contextlib import suppress

from textual import events
from textual.app import App
from textual.message_pump import MessagePump

#: How long one key may take before the next goes on all the same [s].
MOST_PATIENCE_S = 2.0
#: A message that a key sends may make its receiver send another; pages that open and close take two turns.
_TURNS = 2


class KeysInTurn(App[int]):
    """An app whose keys wait for one another."""

    def __init__(self) -> None:
        """No key is waiting."""
        super().__init__()
        self._held: deque[events.Key] = deque()
        self._at_work: asyncio.Task[None] | None = None

    async def on_event(self, event: events.Event) -> None:
        """Hands a key on, or holds it while the one before is at work; everything else goes on as it comes."""
        if not isinstance(event, events.Key) or event.is_forwarded:
            await super().on_event(event)
        elif self._at_work is not None:
            self._held.append(event)
        else:
            await super().on_event(event)
            self._at_work = asyncio.create_task(self._let_work())

    async def _let_work(self) -> None:
        """Waits for the key that was handed on, then hands on those that are held, each in its turn."""
        try:
            await self._handled()
            while self._held and self.is_running:
                await super().on_event(self._held.popleft())
                await self._handled()
        finally:
            self._at_work = None

    async def _handled(self) -> None:
        """Returns when the widget in focus, what it lies in, and the app have seen to all that was sent to them."""
        with suppress(TimeoutError):
            async with asyncio.timeout(MOST_PATIENCE_S):
                for _ in range(_TURNS):
                    inmost = self.focused or self.screen
                    for pump in inmost.ancestors_with_self:
                        await _emptied(pump)


async def _emptied(pump: MessagePump) -> None:
    """Returns when a message pump has worked off what was sent to it until now."""
    done = asyncio.Event()
    if pump.call_later(done.set):  # False where it is closed
        await done.wait()
