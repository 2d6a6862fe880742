"""When Python looks for garbage: between two keys, a little each time, not while somebody waits for an answer.

A check leaves tens of thousands of small objects that hold one another, and nothing moves on the screen while Python
looks through them. Left to itself it did so in the midst of every other check, and for half a second after every
thirtieth key in 200 parts.
"""

from __future__ import annotations

import gc

#: How many more objects than at the last look make Python look by itself; after how many of these looks it looks at
#: what is older, and at all. A check of 200 parts makes about 45,000.
_BY_ITSELF = (150_000, 3, 5)
#: Fewer new objects than these are no work: it is done with what comes next.
_FEW = 10_000
#: How long after the findings are told nobody has typed before there is time for it [s]: they are painted by then.
PAUSE_S = 0.03


def collect_seldom() -> None:
    """From here on Python looks by itself only where much has come together, and never at what is there by now."""
    gc.freeze()
    gc.set_threshold(*_BY_ITSELF)


def collect_some() -> None:
    """Looks through what is new, where that is much; now and then also through what was new at the last few looks."""
    new, looks, _ = gc.get_count()
    if new > _FEW:
        gc.collect(1 if looks >= _BY_ITSELF[1] else 0)


def collect_all() -> None:
    """Looks through all there is."""
    gc.collect()
