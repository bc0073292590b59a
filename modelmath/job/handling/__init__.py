"""Direct handling: what can be moved in the side elevation, and a job with it moved."""

from modelmath.job.handling.handle import Band, CantStand, Handle
from modelmath.job.handling.moving import Moved, band_of, decoder_moves, handles, moved, put_back, tried
from modelmath.job.handling.places import length_text, place_words
from modelmath.job.handling.walls import let_walls_go, walls_held

__all__ = [
    "Band",
    "CantStand",
    "Handle",
    "Moved",
    "band_of",
    "decoder_moves",
    "handles",
    "length_text",
    "let_walls_go",
    "moved",
    "place_words",
    "put_back",
    "tried",
    "walls_held",
]
