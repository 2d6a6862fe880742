"""The terminal user interface. The only package that imports textual, and only below ``screens`` and ``widgets``."""
