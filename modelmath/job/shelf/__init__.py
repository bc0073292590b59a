"""The shelf: rules, speakers, decoders, lamps and stock that jobs share, each kept once under its name."""

from modelmath.job.shelf.bringing_up import Proposal, Proposals, bring_up, proposals
from modelmath.job.shelf.differing import Difference, differences
from modelmath.job.shelf.storing import ShelfChanged, ShelfFile, load_shelf, open_shelf, save_shelf
from modelmath.job.shelf.taking import from_shelf, names_in, put_on_shelf
from modelmath.job.shelf.things import KINDS, SHELF, Kind, Shelf, ShelfDecoder, ShelfLamp

__all__ = [
    "KINDS",
    "SHELF",
    "Difference",
    "Kind",
    "Proposal",
    "Proposals",
    "Shelf",
    "ShelfChanged",
    "ShelfDecoder",
    "ShelfFile",
    "ShelfLamp",
    "bring_up",
    "differences",
    "from_shelf",
    "load_shelf",
    "names_in",
    "open_shelf",
    "proposals",
    "put_on_shelf",
    "save_shelf",
]
