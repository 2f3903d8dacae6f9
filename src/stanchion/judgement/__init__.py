"""Everything derived from a job, as data: figures, findings and advice."""
