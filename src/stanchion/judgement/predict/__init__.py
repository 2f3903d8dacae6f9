"""What loads and springs predict, and the geometry that follows."""
