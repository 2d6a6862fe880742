"""circuitcheck: do new hardwired lights fit on the lighting circuit that is already there?

The package is layered; imports point one way (DEVELOPERS.md draws it, ``tests/test_layers.py`` holds it).
"""

__version__ = "0.1.0"
