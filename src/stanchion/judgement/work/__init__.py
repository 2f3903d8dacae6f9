"""What is to be done on the machine to return it to an earlier setup."""
