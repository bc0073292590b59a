"""The job document as a TOML file: read, checked with line and field, saved whole with its comments."""
