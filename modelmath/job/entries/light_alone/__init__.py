"""Lamps, strands, lenses and leads as a person types them, without a job: one form in each module."""
