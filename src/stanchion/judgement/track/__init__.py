"""Figures and findings from runs, tyres and upkeep."""
