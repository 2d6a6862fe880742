"""The books as data: tables with a source for every row, gathered into rulebooks by edition."""
