"""The tables of a job document, field by field."""
