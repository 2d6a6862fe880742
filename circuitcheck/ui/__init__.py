"""The terminal user interface. The only package that imports textual, and only below ``screens`` and ``widgets``."""

import os

#: What one key press changes is often drawn twice, the character first and then its findings; the second drawing waits
#: one to two frames. Textual reads this when it is first imported.
os.environ.setdefault("TEXTUAL_FPS", "120")
