"""The parameters of a speaker from measurements: an impedance sweep, a test box, an added mass."""
