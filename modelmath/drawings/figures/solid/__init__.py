"""The model in three dimensions: its solids, how they fall on a picture, and the picture at rest."""
