"""Column generation: patterns priced, a linear programme over them, and whole plans from it."""
