"""What is printed or sent: the check as text and JSON."""
