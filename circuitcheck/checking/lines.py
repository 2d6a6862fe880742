"""Lines that are made when somebody reads them: formatting what nobody reads is most of the work of a check."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import overload


class Lines(Sequence[str]):
    """A sequence of texts, made at the first look."""

    def __init__(self, make: Callable[[], Sequence[str]]) -> None:
        """``make`` is called once at the most."""
        self._make: Callable[[], Sequence[str]] | None = make
        self._lines: tuple[str, ...] = ()

    def _texts(self) -> tuple[str, ...]:
        if self._make is not None:
            self._lines = tuple(self._make())
            self._make = None
        return self._lines

    @overload
    def __getitem__(self, place: int) -> str: ...

    @overload
    def __getitem__(self, place: slice) -> tuple[str, ...]: ...

    def __getitem__(self, place: int | slice) -> str | tuple[str, ...]:
        """The line at a place."""
        return self._texts()[place]

    def __len__(self) -> int:
        """How many lines there are."""
        return len(self._texts())

    def __iter__(self) -> Iterator[str]:
        """The lines in order."""
        return iter(self._texts())

    def __eq__(self, other: object) -> bool:
        """Equal to any sequence of the same lines."""
        return isinstance(other, Sequence) and self._texts() == tuple(other)

    def __hash__(self) -> int:
        """As a tuple of the lines."""
        return hash(self._texts())

    def __repr__(self) -> str:
        """The lines."""
        return repr(self._texts())
