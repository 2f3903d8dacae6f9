"""The exit status of the program."""

CLEAN = 0
"""Done; `check` found nothing above a note."""
WARNED = 1
"""Done, but something is left to decide or to look at."""
FAULTY = 2
"""Not done, by the arguments, a file or the output; or `check` found a fault."""
BROKEN = 3
"""A fault of the program itself."""
STOPPED = 130
"""Ended by ^C: 128 and the number of the signal."""
