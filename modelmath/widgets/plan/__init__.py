"""A plan as HTML, and the editor of its zones."""
