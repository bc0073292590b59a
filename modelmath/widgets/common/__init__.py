"""What all panels share: the look, fields with their messages, and where files are."""
