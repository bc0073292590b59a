"""A few mutants of any package, found without looking for all of them."""

from __future__ import annotations

import random

from mutation.mutants import PACKAGES, Mutant, modules_of, mutants_of


def a_few(seed: int, number: int) -> list[Mutant]:
    """Return some mutants: of modules drawn by their length, one each."""
    drawn = random.Random(seed)
    paths = [path for package in PACKAGES for path in modules_of(package)]
    found: list[Mutant] = []
    while len(found) < number:
        path = drawn.choices(paths, [each.stat().st_size for each in paths])[0]
        every = mutants_of(path)
        if every:
            found.append(drawn.choice(every))
    return found
