"""Full size and model: from scale to scale, areas and volumes, sizes from a drawing or photograph."""
