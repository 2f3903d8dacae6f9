"""What is printed or written: check, hand-over sheet, tables, work list, story, comparison."""
