"""What a job is judged by: bands, targets and limits of each use, and the cautions."""
