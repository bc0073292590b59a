"""What the plan's chamber and speaker sound like, and whether the decoder drives it."""
