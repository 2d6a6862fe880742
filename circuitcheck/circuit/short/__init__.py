"""Short ways to write a circuit, spelled out while the file is read: what comes after sees the long form only."""
