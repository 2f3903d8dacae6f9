"""Work that is done on request: choosing springs, comparing a change, the history of one machine."""
