"""Each end as recorded: springs, preload, adjusters, dampers, linkage, and what it carries."""
