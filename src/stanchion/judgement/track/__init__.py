"""What runs, tyres and upkeep tell."""
