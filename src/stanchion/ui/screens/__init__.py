"""Screens: one subject each, put together from widgets."""
