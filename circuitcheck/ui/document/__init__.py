"""The circuit file as it is edited: its text in blocks, every change undoable, and its copy on disk. No textual."""
