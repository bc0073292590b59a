"""What lights in a plan: lamps on their outputs, strands on their way, lens ends, leads, and what feeds them all."""
