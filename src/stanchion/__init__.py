"""A terminal workshop assistant for setting up motorcycle forks and shocks."""

__version__ = "0.3.0"
