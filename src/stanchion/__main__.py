"""`python -m stanchion`."""

from stanchion.commands.command_line import main

main()
