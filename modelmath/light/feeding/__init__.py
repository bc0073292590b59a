"""What feeds the lamps: the outputs of a decoder, its budget, heat, keep-alive, loss in the wires."""
