"""A rule against known sizes: where its zero is, whether its scale is right, and which size disagrees."""

from modelmath.lengths.calibration.fit import Calibration, Disagreeing, Gauge, Residual, calibrate

__all__ = ["Calibration", "Disagreeing", "Gauge", "Residual", "calibrate"]
