"""Charts on straight axes, and what is drawn on them: free of any file format."""
