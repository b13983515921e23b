"""The rulebook that ships with the program: one module a rule, in a folder a subject; a rule imports Rule."""
