"""Lens ends formed on a strand: what is melted for them, and to what size."""
