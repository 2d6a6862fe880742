"""The recovery copy kept up in a thread of its own: the newest state only, so that typing never waits for a disk."""

from __future__ import annotations

import threading

from circuitcheck.circuit.written.block import Block, text_of
from circuitcheck.errors import CommandError
from circuitcheck.ui.document.document import Document


class Keeper:
    """Keeps the recovery copy of a document in step with it."""

    def __init__(self) -> None:
        """Starts the thread."""
        self._state = threading.Condition()
        self._waiting: tuple[Document, tuple[Block, ...], str, bool] | None = None
        self._busy = False
        self._closed = False
        self.trouble = ""
        self._thread = threading.Thread(target=self._work, name="keeper", daemon=True)
        self._thread.start()

    def keep(
        self,
        document: Document,
        draft: str = "",
        blocks: tuple[Block, ...] | None = None,
        *,
        changed: bool | None = None,
    ) -> None:
        """Keeps the document as it stands now, with text that is not a value yet; drops the copy when all is saved.

        blocks, changed: what is kept instead while something is only tried, and whether that is not saved.
        """
        needed = (document.changed if changed is None else changed) or bool(draft)
        with self._state:
            self._waiting = (document, document.blocks if blocks is None else blocks, draft, needed)
            self._state.notify_all()

    def settle(self) -> None:
        """Waits until nothing is left to write."""
        with self._state:
            self._state.wait_for(lambda: self._waiting is None and not self._busy, timeout=5)

    def close(self) -> None:
        """Ends the thread; what waits is dropped, since whoever closes has saved or let go."""
        with self._state:
            self._closed = True
            self._waiting = None
            self._state.notify_all()

    def _work(self) -> None:
        while True:
            with self._state:
                self._state.wait_for(lambda: self._waiting is not None or self._closed)
                if self._waiting is None:
                    return
                document, blocks, draft, needed = self._waiting
                self._waiting = None
                self._busy = True
            try:
                if needed:
                    document.keep_recovery(text_of(blocks), draft)
                else:
                    document.drop_recovery()
                self.trouble = ""
            except (CommandError, OSError) as trouble:
                self.trouble = str(trouble)
            with self._state:
                self._busy = False
                self._state.notify_all()
