"""The short safety text that every output for people ends with; SAFETY.md says the same at length."""

from __future__ import annotations

#: One thought a line, in the order in which they matter on the day. Shown after every check, in the note and on screen.
SHORT: tuple[str, ...] = (
    "This is arithmetic on what the file says. It cannot see the wiring, and it is no permission to work.",
    "Turn off the breaker, then lock it or tag it, and tell everyone in the house.",
    "Test that every wire in the box is dead with a two-lead tester that you "
    "checked on a known live outlet before and after. "
    "A wall switch that is off is not power off, and a second circuit may be in the same box.",
    "An attic can be dangerously hot: go early, take water, tell someone; step only on framing or boards.",
    "Old or pebble-like insulation may hold asbestos: leave it alone and keep out until someone trained has looked.",
    "Local code decides, and so does the permit office: ask before you start. "
    "When anything is unclear, old, warm or damaged, stop and call a licensed electrician.",
)

#: The line that stays in view where there is room for one only.
ONE_LINE = (
    "Breaker off and locked or tagged, tested dead; local code, the permit office and a licensed electrician decide."
)
