"""What a chamber that is not sealed does: leaks, their size as a number, and an open back."""
