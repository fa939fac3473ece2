"""The command line."""

from gasfuncs.cli.commands import main

__all__ = ["main"]
