"""A small loudspeaker by its parameters: what is known of each, and from where."""
