"""The parts of a chamber: what each is made to, by facing of the speaker, and what is wanted beside."""
