"""What the application does when a command is given, by subject."""
