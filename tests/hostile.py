"""Job files that are damaged, or made to do harm: one for each seed, from the demo jobs."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from random import Random

from sample_jobs import DEMO_PATHS

from modelmath.job.storage.files import load_job, read_job, save_job

CONTENTS = [path.read_bytes() for path in DEMO_PATHS]
# Values of every kind that TOML has, in place of the one that belongs there.
VALUES = (
    '""', '"' + "9" * 5000 + '"', "1", "-1", "0", "9" * 5000, "1e999", "nan", "-inf", "true", "[]", "[[]]", "{}",
    '["a", 1]', "{a = {b = 1}}", "1979-05-27T07:32:00Z", "07:32:00", "1979-05-27", "0x7fffffffffffffffff", '"\\u0000"',
    '"\\u202e31 .oN"', '"\\ud800"', "'''\n'''", '"1e999999999 mm"', '"1/0 mm"', '"NaN mm"', '"infinity"', "[[[[1]]]]",
)  # fmt: skip
DEPTHS = (3, 50, 200, 1000, 20_000)


def hostile(seed: int) -> bytes:
    """A file for a number; the same one each time."""
    random = Random(seed)
    return KINDS[seed % len(KINDS)](random, random.choice(CONTENTS))


def _cut(random: Random, content: bytes) -> bytes:
    return content[: random.randrange(len(content))]


def _middle_gone(random: Random, content: bytes) -> bytes:
    start, end = sorted(random.randrange(len(content)) for _ in "ab")
    return content[:start] + content[end:]


def _bits(random: Random, content: bytes) -> bytes:
    changed = bytearray(content)
    for _ in range(random.choice((1, 1, 2, 10, 300))):
        changed[random.randrange(len(changed))] ^= 1 << random.randrange(8)
    return bytes(changed)


def _nuls(random: Random, content: bytes) -> bytes:
    at, long = random.randrange(len(content)), random.choice((1, 4096))
    return content[:at] + b"\0" * long + random.choice((content[at:], b""))


def _marks(random: Random, content: bytes) -> bytes:
    text = content.decode()
    return random.choice(
        (
            b"\xef\xbb\xbf" + content,
            b"\xef\xbb\xbf" * 2 + content,
            b"\xff\xfe" + text.encode("utf-16-le"),
            b"\xfe\xff" + text.encode("utf-16-be"),
            text.encode("utf-16"),
            text.encode("utf-32"),
            content.replace(b"\n", b"\r"),
            content.replace(b"\n", b"\r\n"),
            b"",
            b"\0" * 5000,
            b"\xef\xbb",
        )
    )


def _cut_signs(random: Random, content: bytes) -> bytes:
    cut = random.choice(("№", "±", "𝔸", "é")).encode()[:-1]
    at = random.randrange(len(content))
    return content[:at] + cut + content[at:]


def _other_value(random: Random, content: bytes) -> bytes:
    lines = content.decode().split("\n")
    for _ in range(random.choice((1, 1, 3, 40))):
        at = random.choice([number for number, line in enumerate(lines) if " = " in line])
        lines[at] = f"{lines[at].partition(' = ')[0]} = {random.choice(VALUES)}"
    return "\n".join(lines).encode()


def _lines_moved(random: Random, content: bytes) -> bytes:
    lines = content.split(b"\n")
    for _ in range(random.choice((1, 1, 5))):
        act, at = random.randrange(4), random.randrange(len(lines))
        if act == 0:
            lines.insert(random.randrange(len(lines)), lines[at])
        elif act == 1:
            lines.insert(random.randrange(len(lines)), lines.pop(at))
        elif act == 2:
            del lines[at]
        else:
            lines[at] = lines[at].replace(b"[[", b"[").replace(b"]]", b"]")
    return b"\n".join(lines)


def _deep(random: Random, content: bytes) -> bytes:
    depth = random.choice(DEPTHS)
    nested = random.choice(
        (
            "x = " + "[" * depth + "]" * depth,
            "x = " + "{a = " * depth + "1" + "}" * depth,
            "x." + "a." * depth + "a = 1",
            "[" + "a." * depth + "a]",
            "x = " + "[" * depth,
            "x = " + "{a = [" * depth,
        )
    ).encode()
    return random.choice((nested + b"\n" + content, content + b"\n" + nested))


def _huge(random: Random, content: bytes) -> bytes:
    many = random.choice((1000, 30_000))
    return random.choice(
        (
            content + b"#" * 2_500_000,
            content + b"\n" + b"".join(b'[[readings]]\nname = "%d"\nmark = "1"\n' % each for each in range(many)),
            content + b"\n" + b"".join(b"x%d = 1\n" % each for each in range(many)),
            content + b"\n[x]\n" + b"".join(b"x%d.y = 1\n" % each for each in range(many)),
            content + b"\n" + b"".join(b"[x%d.y.z]\n" % each for each in range(many)),
            b"".join(b"[[zones]]\n" for _ in range(many)),
            content + b'\n[build]\nwall = "' + b"9" * 1_500_000 + b'"\n',
            content + b'\nnotes = "' + b"\\u00e9" * many + b'"\n',
        )
    )


def _noise(random: Random, _content: bytes) -> bytes:
    return random.randbytes(random.choice((1, 10, 5000)))


KINDS: tuple[Callable[[Random, bytes], bytes], ...] = (
    _cut, _middle_gone, _bits, _nuls, _marks, _cut_signs, _other_value, _lines_moved, _deep, _huge, _other_value, _bits,
    _noise,
)  # fmt: skip


def check_hostile(seed: int, file: Path) -> bool:
    """Read a hostile file; return whether it is a job. If it is, it can be saved and is the same then."""
    file.write_bytes(hostile(seed))
    found, faults = read_job(file)
    if found is None:
        first = faults[0]
        assert first.where or "larger than" in first.problem, (seed, str(first))
        assert all(len(str(each)) < 2000 for each in faults), seed
        return False
    assert faults == []
    save_job(found.model_copy(update={"name": "saved"}), file)
    assert load_job(file) == found.model_copy(update={"name": "saved"}), seed
    return True
