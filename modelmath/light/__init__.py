"""Light from a lamp to a lens, and the current that makes it: strands, lens ends, lamps, what feeds them."""
