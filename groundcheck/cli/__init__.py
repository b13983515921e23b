"""The command line: parses, makes one library call, prints; a file a sub-command, on top of everything else."""

from groundcheck.cli.command import main

__all__ = ["main"]
