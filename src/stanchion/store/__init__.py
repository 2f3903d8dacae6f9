"""Files: where jobs live, how they are written and found again."""
