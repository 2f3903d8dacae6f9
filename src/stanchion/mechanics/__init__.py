"""Plain calculation: floats in, floats out; nothing here knows of jobs, files or screens."""
