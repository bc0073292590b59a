"""The space inside the shell as a plan sees it: free depth, room along the length, what sounds out, weight."""
