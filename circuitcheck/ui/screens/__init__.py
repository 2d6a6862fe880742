"""The pages. Each has its look beside it (``name.py`` and ``name.tcss``); pages that ask return a typed result."""
