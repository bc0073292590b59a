"""Bytes turned into choices, the same way whoever makes the bytes: a fuzzer, hypothesis or a random generator."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import TypeVar

T = TypeVar("T")


class Choices:
    """Choices read off some bytes, one after another; once they are used up, every choice is the first one.

    A fuzzer that changes one byte changes one choice, so that what it learns about the code is about that choice.
    """

    def __init__(self, data: bytes) -> None:
        self.data, self.at = data, 0

    def below(self, count: int) -> int:
        """A number from 0, below `count`."""
        if count <= 1:
            return 0
        wide = ((count - 1).bit_length() + 7) // 8
        found = int.from_bytes(self.data[self.at : self.at + wide], "big")
        self.at += wide
        return found % count

    def one(self, of: Sequence[T]) -> T:
        return of[self.below(len(of))]

    def often(self, in_256: int) -> bool:
        """Whether something is done that is done so many times in 256; not done once the bytes are used up."""
        return self.at < len(self.data) and 255 - self.below(256) < in_256

    def rest(self) -> bytes:
        found = self.data[self.at :]
        self.at = len(self.data)
        return found


def random_bytes(seed: int, target: str, length: int = 160) -> bytes:
    """Bytes for a number and a target's name; the same ones each time."""
    return Random(f"{target} {seed}").randbytes(length)
