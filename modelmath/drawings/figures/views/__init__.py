"""Views of the plan's model in true proportion, dimensioned: a cross-section, and from above."""
