"""What hostile text is made of: the words of every grammar here, numbers past any bound, signs that look alike."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fuzz.chooser import Choices

NUMBERS = (
    "0", "1", "-1", "+1", "3 3/4", "3-3/4", "3¾", "1/0", "0/0", "7/7", "1/2/3", "15.9", ".040", "1.", ".", "1,5",
    "1,500", "1.000,5", "1e3", "1E999", "1e999999999", "-1e-999999999", "inf", "-inf", "nan", "NaN", "1_000", "0x10",
    "½", "⅐", "1/1000000000", "1/99999999999999999999", "999999999/1000000000", "0.000000000000000000000000001",
    "1 1/1000000000", "18446744073709551616", "179769313486231590000" + "0" * 290, "0." + "0" * 330 + "1", "9" * 59,
    "9" * 310, "9" * 5000, "1/" + "9" * 56, "9" * 28 + "/" + "7" * 28, "٣", "１２", "௧", "²", "Ⅷ", "০.৫", "𝟗",
    "1\u00a02", "1\u20092/3", "--1", "1000000", "999", "20000", "100001", "4999", "60", "99", "100", "12", "11.999",
    "64", "0.1", "0.5", "2", "5", "8",
)  # fmt: skip
UNITS = (
    "mm", "cm", "m", "in", "in.", "ft", "ft.", "'", '"', "''", "scale ft", "scale in", "real in", "real ft",
    "scale mm", "scale", "feet", "inches", "metres", "µm", "mil", "Hz", "kHz", "ohm", "Ω", "mΩ", "kohm", "W", "mW",
    "V", "mV", "mA", "A", "uF", "µF", "F", "s", "ms", "min", "cm3", "ml", "l", "mm3", "mm2", "cm2", "g", "mg", "mH",
    "uH", "%", "deg", "°", "sq ft", "cu ft", "sq in", "grams", "K", "lm", "",
)  # fmt: skip
MARKS = (
    " ", ",", ", ", ";", "; ", ":", ": ", "\t", "\n", "\r\n", "\r", "x", " x ", "×", "*", "by", " at ", " of ",
    " to ", " ± ", "+/-", "+-", "=", " = ", "/", "-", "–", "−", "(", ")", "[", "]", "{", "}", "#", '"', "'", "’", "”",
    "\\", "|", "@", "№", "…", "\x00", "\x0b", "\x0c", "\x1b", "\x85", "\u2028", "\u2029", "\ufeff", "\u202e",
    "\u2066", "\u200b", "\ud800", "\udfff", "\U000e0001", "\U0001f5ff", "́", "ﬁ", "İ", "ß", "\x7f",
)  # fmt: skip
TRADE = (
    "HO", "N", "O", "S", "OO", "H0", "1:87.1", "1:0", "1:9999", "HO 6x10", "HO 4 x 8", ".040 sq", ".080 x .125",
    "1.0 x 2.0 mm", ".040 sheet", "1 mm sheet", "3/32 rod", ".125 tube", ".060 angle", "channel", "H column",
    "I beam", "#67", "No. 80", "A", "Z", "1/16", "1.5 mm", "#0", "#81", "AWG 30", "30 AWG", "strip", "sheet", "drill",
    "wire", "strand", "given", "measured", "estimated", "derived", "about", "not measured", "best", "front", "rear",
    "middle", "both", "none", "end", "zero", "shell", "chassis", "scale foot", "scale inch", "nearest mark", "kind",
    "name", "mark", "size", "length", "width", "count", "note", "offcut", "yes", "no", "true", "round", "formed",
    "off", "brass", "lead", "zinc alloy", "unfilled", "left", "right", "up", "down", "roof", "fs", "qts", "vas", "Re",
    "ohms", "frequency", "impedance", "phase", "red", "warm white", "E24", "E96", "stranded", "solid", "normal",
    "uniform", "triangular", "rectangular", "k=2", "95 %", "8 ohm, 1 W",
)  # fmt: skip
HARM = (
    "=1+1", "=HYPERLINK(\"x\")", "+1", "-2+3", "@SUM(A1)", "<script>alert(1)</script>", "&amp;", "\\input{x}", "$x$",
    "../../x", "/etc/passwd", "C:\\x", "con", "%s%n", "{0}", "{x.__class__}", "__import__('os')", "[" * 300,
    "]" * 300, "((((" * 50, '"' * 300, "'" * 301, "," * 1000, "/" * 400, "-" * 400, "1 " * 400, "1/" * 400, "x" * 500,
    " " * 2000, "\n" * 500,
)  # fmt: skip
TOKENS = (*NUMBERS, *UNITS, *MARKS, *TRADE, *HARM)
LONG_DIGITS = ("9", "0", "1", "7.", "1/", "1,", "-1 ", "9" * 10, "½", "٣")
LENGTHS = (5_000, 70_000, 1_000_000)
MOST = 1_200_000  # characters of one text


def text(choices: Choices, seeds: Sequence[str] = (), words: Sequence[str] = TOKENS) -> str:
    """A text: one as it should be, one changed a little, words in a row, plain bytes, or one far too long."""
    way = choices.below(8)
    if way == 0 or not seeds:
        return raw(choices) if way == 0 else several(choices, words)
    if way <= 4:
        return changed(choices, choices.one(seeds), words)
    if way == 5:
        return choices.one(NUMBERS) + choices.one((" ", "", ", ")) + choices.one(UNITS)
    if way == 6:
        return lines_of(choices, seeds, words)
    return several(choices, words)


def short_text(choices: Choices, seeds: Sequence[str] = ()) -> str:
    """As `text`, out of few words: for one of many fields."""
    way = choices.below(4)
    if way == 0:
        return choices.one(NUMBERS) + choices.one((" ", "", ", ")) + choices.one(UNITS)
    if way == 1 and seeds:
        return changed(choices, choices.one(seeds), TOKENS)
    return choices.one(seeds) if way == 2 and seeds else several(choices, TOKENS, 3)


def raw(choices: Choices) -> str:
    """What is left of the bytes, as text; half characters become lone surrogates, as in a broken file's name."""
    return choices.rest().decode("utf-8", "surrogateescape")


def several(choices: Choices, words: Sequence[str], most: int = 9) -> str:
    return choices.one(("", " ", ", ")).join(choices.one(words) for _ in range(choices.below(most) + 1)) + very_long(
        choices
    )


def very_long(choices: Choices) -> str:
    """Nothing, mostly; else digits or signs in a row, up to a million of them."""
    if not choices.often(5):
        return ""
    sign = choices.one((*LONG_DIGITS, *MARKS))
    return (sign * choices.one(LENGTHS))[:MOST]


def changed(choices: Choices, seed: str, words: Sequence[str]) -> str:
    """A text with one to four changes: something put in, left out, doubled, or another word in its place."""
    found = seed
    for _ in range(choices.below(4) + 1):
        at = choices.below(len(found) + 1)
        way = choices.below(6)
        if way == 0:
            found = found[:at] + choices.one(words) + found[at:]
        elif way == 1:
            found = found[:at] + found[at + 1 + choices.below(4) :]
        elif way == 2:
            end = at + 1 + choices.below(12)
            found = found[:end] + found[at:end] + found[end:]
        elif way == 3:
            parts = found.split(" ")
            parts[choices.below(len(parts))] = choices.one(words)
            found = " ".join(parts)
        elif way == 4:
            found = found[:at] + choices.one(NUMBERS) + found[at:]
        else:
            found = found[:at] + very_long(choices) + found[at:]
    return found[:MOST]


def lines_of(choices: Choices, seeds: Sequence[str], words: Sequence[str]) -> str:
    """Several lines, or very many."""
    ends = choices.one(("\n", "\r\n", "\n\n", "\r", "\u2028"))
    lines = [
        choices.one(seeds) if choices.below(2) else changed(choices, choices.one(seeds), words)
        for _ in range(choices.below(5) + 1)
    ]
    times = choices.one((1, 50, 600, 11_000)) if choices.often(3) else 1
    once = sum(map(len, lines)) + len(ends) * len(lines)
    return ends.join(lines * min(times, MOST // once + 1))[:MOST]


def form(choices: Choices, usual: Mapping[str, str], seeds: Sequence[str] = ()) -> dict[str, str]:
    """A form with some of its fields changed; one time in a while another field, or one left out."""
    found = dict(usual)
    names = list(usual)
    for _ in range(choices.below(5) + 1):
        name = choices.one(names)
        own = [value for value in (usual[name], *seeds) if value]
        found[name] = short_text(choices, own)
    if choices.often(10):
        found.pop(choices.one(names), None)
    if choices.often(10):
        found[several(choices, TOKENS, 2)] = "1 mm"
    return found


def content(choices: Choices, seeds: Sequence[str]) -> bytes:
    """A file's bytes: a text in one of the encodings, or cut, or with other bytes in it."""
    written = text(choices, seeds)
    way = choices.below(10)
    if way == 0:
        return choices.rest()
    codec = {1: "utf-16", 2: "utf-16-le", 3: "utf-32", 4: "cp1252", 5: "utf-8-sig"}.get(way, "utf-8")
    found = written.encode(codec, "replace" if codec == "cp1252" else "surrogatepass")
    if way == 6 and found:
        at = choices.below(len(found))
        found = found[:at] + choices.one((b"\xff", b"\0", b"\xed\xa0\x80", b"\xef\xbb\xbf", b"")) + found[at + 1 :]
    return found[: choices.below(len(found))] if way == 7 and found else found
