"""A new circuit from a few questions, for the full screen and for the line-by-line mode alike. No textual."""
