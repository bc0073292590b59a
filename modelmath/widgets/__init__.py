"""Thin panels over the calculations. Nothing is worked out here: a panel reads text, asks, and shows."""

from modelmath.widgets.enclosure import EnclosurePanel
from modelmath.widgets.readings import ReadingsPanel
from modelmath.widgets.start import start_page
from modelmath.widgets.strips import StripsPanel

__all__ = ["EnclosurePanel", "ReadingsPanel", "StripsPanel", "start_page"]
