"""A plan's model as plain numbers and words, for a view that is turned where there is no Python."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from modelmath.drawings.figures.solid.bodies import LOOKS_THROUGH, model_of
from modelmath.drawings.figures.solid.faces import HATCH_OF, LEAST_APART, MOST_THINNED, body_of
from modelmath.drawings.figures.solid.key import SHELL, SHELL_BEHIND, WIDTH, look
from modelmath.drawings.figures.solid.names import ABOVE, named_things
from modelmath.drawings.figures.solid.order import Block, Tree
from modelmath.drawings.figures.solid.projection import TILT, TURN
from modelmath.drawings.figures.solid.static import HIGHEST, SIDE, in_words
from modelmath.drawings.shapes import Pen, plain

if TYPE_CHECKING:
    from modelmath.job import Plan

DIGITS = 4  # of a millimetre


def scene_data(plan: Plan) -> dict[str, Any]:
    """Return all that is needed to draw a plan's model from anywhere.

    Parameters
    ----------
    plan : Plan
        The plan; what it can't give yet is left out, and said. [-]

    Returns
    -------
    dict
        Lists, numbers and words only; sizes of the model in mm, of lines and sheet in drawing units. [mm]

    References
    ----------
    `model_of`, `tree_of`.
    """
    model = model_of(plan)
    body = body_of(model)
    kinds = {solid.kind for solid in model.solids if solid.kind != "shell"}
    return {
        "title": plain(f"{model.name}, to be turned"),
        "words": plain(in_words(model)),
        "view": {"turn": TURN, "tilt": TILT},
        "sheet": {"width": WIDTH, "high": HIGHEST, "side": SIDE},
        "hatch": {"step": body.step, "apart": LEAST_APART, "most": MOST_THINNED},
        "kinds": {kind: _look(kind) for kind in sorted(kinds)},
        "lines": {"shell": _pen(SHELL), "behind": _pen(SHELL_BEHIND)},
        "solids": [{"kind": solid.kind, "words": plain(solid.words)} for solid in model.solids],
        "names": [
            {"words": plain(words), "solids": numbers, "above": kind in ABOVE}
            for kind, words, numbers in named_things(model)
        ],
        "corners": [[round(each, DIGITS) for each in corner] for corner in body.corners()],
        "shell": [
            {"ends": [solid.start, solid.end], "outline": [list(point) for point in solid.outline]}
            for solid in model.of("shell")
        ],
        "tree": _tree(body.tree),
    }


def _look(kind: str) -> dict[str, Any]:
    drawn = look(kind)
    return {
        "fill": drawn.fill,
        "through": kind in LOOKS_THROUGH,
        "edge": _pen(drawn.edge),
        "hatch": _pen(drawn.hatch),
        "pattern": list(HATCH_OF[kind]) if kind in HATCH_OF else None,
    }


def _pen(pen: Pen) -> dict[str, Any]:
    return {"width": pen.width, "grey": pen.grey, "dashes": list(pen.dashes)}


def _tree(tree: Tree) -> dict[str, Any] | None:
    if tree is None:
        return None
    if isinstance(tree, Block):
        return {
            "solid": tree.solid,
            "along": [tree.start, tree.end],
            "outline": [list(point) for point in tree.outline],
            "sides": list(tree.sides),
            "corners": list(tree.corners),
            "ends": list(tree.ends),
        }
    return {"axis": tree.axis, "at": tree.at, "low": _tree(tree.low), "high": _tree(tree.high)}
