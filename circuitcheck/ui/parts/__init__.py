"""What can be done with the parts of a circuit. Each is one step of undo. No textual."""
