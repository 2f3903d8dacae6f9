"""Which springs could go into an end, and between which rates both sags come into target."""
