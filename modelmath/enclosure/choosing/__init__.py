"""What a choice costs, and what would make a job fit that does not: the trade curve and the remedies."""
