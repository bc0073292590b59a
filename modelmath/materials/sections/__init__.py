"""Strip and sheet by name and size: what is sold, and what a strip is in other series."""
