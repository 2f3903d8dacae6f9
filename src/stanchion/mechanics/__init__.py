"""Calculations on plain numbers, independent of jobs, files and screens."""
