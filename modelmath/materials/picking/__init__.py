"""Which stock to take for a part: by use, glued up, one for a whole set, shims."""
