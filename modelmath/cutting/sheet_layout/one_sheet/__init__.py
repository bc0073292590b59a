"""How one sheet is parted: panels, ways to fill them, rows, tidying, what a snap measures."""
