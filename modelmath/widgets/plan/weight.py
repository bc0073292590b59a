"""What each truck carries before and after, as HTML."""

from __future__ import annotations

from modelmath.enclosure.balance.masses import grams
from modelmath.job import Plan
from modelmath.widgets.common import look
from modelmath.widgets.common.minding import cautioned

HOW = (
    "Nothing is weighed yet. Put one truck on the scale and prop the other up level, read it, then turn it round.",
    "Then enter what each truck carries, in g, and where the two trucks stand along the length.",
    "After that, enter what comes off and what goes in: by weight, or by volume and material, and where.",
)


def weight(plan: Plan) -> str:
    """Return the balance fore and aft in sentences, or how to come to it."""
    found, mind = plan.balance, cautioned("metal", "lead weight")
    if found is None:
        return "".join(look.paragraph(each) for each in HOW) + mind
    before, after = found.loads_before, found.loads_after
    rows = [
        (found.front.name, grams(before.front_g), grams(after.front_g)),
        (found.rear.name, grams(before.rear_g), grams(after.rear_g)),
    ]
    table = look.table("What each truck carries", ("Truck", "Before", "After"), rows)
    return table + "".join(look.paragraph(each) for each in found.in_words) + mind
