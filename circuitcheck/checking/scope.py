"""What is asked of the rules: about which parts, and whether anybody reads what an open answer depends on."""

from __future__ import annotations

from typing import NamedTuple


class Scope(NamedTuple):
    """``named`` False: nobody reads which entries an open answer depends on. ``about``: the ids of parts; None: all."""

    named: bool = True
    about: frozenset[str] | None = None


WHOLE = Scope()
