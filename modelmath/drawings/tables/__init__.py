"""A plan's parts, holes and cuts as tables for a spreadsheet: numbers as numbers, their unit in the heading."""
