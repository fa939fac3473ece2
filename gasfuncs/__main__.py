"""`python -m gasfuncs` is the command line."""

from gasfuncs.cli import main

main()
