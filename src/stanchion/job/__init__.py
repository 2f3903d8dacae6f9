"""What is recorded: the job, its fields and how it changes."""
