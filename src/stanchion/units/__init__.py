"""Text to numbers with units, and back."""
