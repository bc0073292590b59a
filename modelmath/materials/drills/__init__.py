"""Drills by name, wires by gauge, and the hole that passes strands, wires and bundles."""
