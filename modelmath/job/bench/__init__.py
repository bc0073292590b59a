"""The job document read into rules, readings, heights, places and what goes in."""
