"""What is worked out when it is asked for: springs to fit, a change tried, a machine through time."""
