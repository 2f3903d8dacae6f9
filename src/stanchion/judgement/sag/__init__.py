"""Sag from its readings, and what to do about the sags of one end."""
