"""Everything derived from a job: figures, findings, advice, and their wording."""
