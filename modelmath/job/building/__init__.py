"""Building a model from its plan: steps in order, what waits for what, what is ticked, what was measured."""
