"""`python -m stanchion`."""

from stanchion.cli import main

main()
