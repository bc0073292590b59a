"""Strands of acrylic fibre: what they take in, what they lose, how long they are."""
