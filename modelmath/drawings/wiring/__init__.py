"""The wiring of a model, drawn from its job in black and white with the usual circuit symbols."""
