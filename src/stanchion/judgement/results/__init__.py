"""Results of judging, as data: figures, findings, and the assessment that contains them."""
