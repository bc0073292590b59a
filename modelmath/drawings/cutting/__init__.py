"""Flat parts to cut and drill, as geometry in mm: one drawing for a knife or a cutter, as SVG and as DXF."""
