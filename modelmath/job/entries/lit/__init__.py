"""What lights, as text and back: what feeds it, lamps, strands with their lenses, leads."""
