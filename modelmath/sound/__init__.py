"""What a chamber and a speaker do together, and whether a decoder can drive it: lumped acoustics and loads."""
