"""Widgets: each reports facts as messages and knows no other."""
