"""A job for a new model, from a few answers: it has its zones, readings and rule by name, and nothing is measured."""

from modelmath.job.begin.answers import LAMPS, MOST_STRETCHES, Answers, Stretch, plain_names
from modelmath.job.begin.making import Begun, begin, rules_on
from modelmath.job.begin.saving import save_new

__all__ = [
    "LAMPS",
    "MOST_STRETCHES",
    "Answers",
    "Begun",
    "Stretch",
    "begin",
    "plain_names",
    "rules_on",
    "save_new",
]
