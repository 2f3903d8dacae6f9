"""What judging gives, as data: figures, findings, and the assessment that holds them."""
