"""How a chamber is found: stretches of bays, seats, pockets, what is boxed in, and by how much it misses."""
