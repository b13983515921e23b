"""From what was named to sheets of cells: finding the files, reading each kind, and saying what could not be read."""
