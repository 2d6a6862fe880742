"""Nature as pure functions of floats: conductors, branch circuits, low-voltage runs. No circuit, no tables."""
