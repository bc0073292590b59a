"""What becomes of strands, lamps and leads in another scale: what is bought stays, castings and places scale."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from modelmath.job.rescaled.treatments import Treatment

LIT: Final[dict[str, dict[str, Treatment]]] = {
    "SpotEntry": {"along": "scaled", "up": "scaled", "right": "scaled"},
    "StrandEntry": {
        "name": "as written",
        "lamp": "as written",
        "to": "table",
        "via": "table",
        "radius": "stays",  # how sharply a strand may be bent goes by its own thickness
        "formed": "as written",
        "bore": "scaled",
        "play": "stays",
        "prototype": "as written",
        "diameter": "scaled",
        "length": "scaled",
        "trial": "as written",
        "slack": "stays",
        "trim": "stays",
    },
    "CircuitEntry": {
        "lamp": "as written",
        "source": "as written",
        "leds": "as written",
        "colour": "as written",
        "forward": "as written",
        "current": "as written",
        "rated": "as written",
        "resistor": "as written",
        "output": "as written",
        "emitter": "stays",
        "at": "table",
    },
    "KeepAliveEntry": {
        "capacitance": "as written",
        "least": "as written",
        "load": "as written",
        "over": "as written",
    },
    "PlugEntry": {"name": "as written", "poles": "as written", "most": "as written"},
    "FeedEntry": {
        "supply": "as written",
        "outputs": "as written",
        "each": "as written",
        "all": "as written",
        "whole": "as written",
        "idle": "as written",
        "motor": "as written",
        "sound": "as written",
        "series": "as written",
    },
    "LeadEntry": {
        "name": "as written",
        "run": "scaled",
        "slack": "stays",
        "count": "as written",
        "gauge": "as written",
        "colour": "as written",
        "current": "as written",
        "output": "as written",
        "wires": "as written",
        "crosses": "as written",
    },
    # What is built belongs to the model that was measured.
    "MeasuredEntry": {"what": "as written", "value": "stays", "within": "stays"},
    "ProgressEntry": {"done": "taken over", "ticked": "taken over", "measured": "table"},
    "LightEntry": {
        "feed": "table",
        "circuits": "table",
        "strands": "table",
        "leads": "table",
        "most_drop": "as written",
        "keep_alive": "table",
        "plug": "table",
    },
}
