"""What is asked of the rules: about which parts, and whether anybody reads more than how it comes out."""

from __future__ import annotations

from typing import NamedTuple


class Scope(NamedTuple):
    """``about``: the ids of parts; None: all.

    ``named`` False: nobody reads which entries an open answer depends on, nor which other size of a cable would do.
    """

    named: bool = True
    about: frozenset[str] | None = None


WHOLE = Scope()
