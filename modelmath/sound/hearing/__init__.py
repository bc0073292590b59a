"""A short generated sound through a predicted response."""
