"""The sheets of the packet: bench card, measurements, what is made and cut, build order."""
