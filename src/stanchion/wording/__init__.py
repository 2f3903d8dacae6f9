"""Every sentence, label and word about a job that a person reads."""
