"""A speaker in a sealed chamber: resonance, response, cone travel, and where the theory ends."""
