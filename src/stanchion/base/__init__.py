"""What every room may use: errors, records, clean text, progress, files that ship with the program."""
