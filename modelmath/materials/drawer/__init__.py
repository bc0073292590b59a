"""The drawer: what is on hand, kept in a file that several pages share."""
