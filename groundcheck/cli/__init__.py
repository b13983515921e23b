"""The command line, a file a sub-command; imports the library."""
