"""Figures for page and sheet: drawn as shapes, free of any file format."""
