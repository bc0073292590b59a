"""Chamber and speaker's seat as closed bodies in mm, for a printer or another program: STL and 3MF."""
