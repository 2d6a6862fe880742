"""The user's circuit file: what it may say (entries), what it says (reader), and the circuit it describes (model)."""
