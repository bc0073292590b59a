"""Names and notes made to do harm wherever they are shown, and jobs in which each text is one of them.

Every text holds a mark of its own, such as ``zq07``, by which a test finds it again as text.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from modelmath.job import Job

ELSEWHERE = "http://hostile.invalid"  # RFC 2606: a name that is never anyone's
# Each is a name that the job takes; what it refuses is below. `@` stands where the mark goes.
_AS_NAMES = (
    # HTML and scripts
    "<b>@</b>", "<script>ran=1;alert(1)</script>@", '<img src=x onerror="ran=1">@', '"><svg onload=ran=1>@',
    "' onmouseover='ran=1' @", '" autofocus onfocus="ran=1" @', "</style><script>ran=1</script>@",
    "</textarea><script>ran=1</script>@", "</title><script>ran=1</script>@", "</svg></span></p><h1>@",
    f'<iframe src="{ELSEWHERE}/">@', f'<link rel=stylesheet href="{ELSEWHERE}/x.css">@',
    f"<style>@import url({ELSEWHERE}/y.css)</style>", '<a href="javascript:ran=1">@</a>', "javascript:ran=1//@",
    "[@](javascript:ran=1)", f"![@]({ELSEWHERE}/x.png)", "&lt;script&gt;ran=1&lt;/script&gt;@", "&#60;b&#62;@&amp;",
    "]]><script>ran=1</script>@", "<!-- @", "--> @", '<?xml version="1.0"?><x>@</x>', "`<b>@</b>`", "**@** _@_ # @",
    '<!DOCTYPE x [<!ENTITY y SYSTEM "file:///etc/passwd">]>&y;@', "</script><script>ran=1</script>@",
    # mathematics
    r"$\alpha @$", r"\(\beta @\)", r"$$\gamma @$$", r"\[\delta @\]", r"$\href{javascript:ran=1}{@}$",
    r"\begin{equation}@\end{equation}",
    # formulas of a spreadsheet
    "=1+1 @", "+1+1 @", "-1+1 @", "@SUM(1,1) @@", "=cmd|' /C calc'!A0 @", f'=HYPERLINK("{ELSEWHERE}","@")', "＝1+1 @",
    "'=1+1 @", ";=1+1;@", '",=1+1,"@', '"=1+1 @', "|=1+1|@", "#REF! @", "=DDE(\"cmd\";\"/C calc\";\"@\")",
    # paths
    "../../@", "/etc/@", "C:\\@", "CON", "nul.@", "aux/@", "..\\..\\@", "....", "~root/@", "file:///etc/@", "-rf @",
    "; touch @", "$(touch @)", "`touch @`", "@.toml", "@/../../@", "@ | tee @", "%2e%2e%2f@",
    # templates and formats
    "{{ 7*7 }}@", "{% raw %}@", "${7*7}@", "{0.__class__.__mro__}@", "{name}{}@", "%n%n%s%d@", "%(x)s@", "<%= 7 %>@",
    # mark-up of the PDF writer, and of drawings
    "<para>@</para>", '<img src="file:///etc/passwd"/>@', f'<link href="{ELSEWHERE}">@</link>', "<font size=90>@",
    '<onDraw name="x" label="y"/>@', "<br/>@<br/>", "%%c%%d%%u@", "{\\C1;\\H9x;@}", "\\P@\\P", "^J0^JLINE^J@",
    "\\U+000A0\\U+000ALINE\\U+000A@", "\\M+182A0@", "(@) Tj ET", ">> /URI (x) <<@",
    # signs
    "א@ב 3/8", "مود@ 12", "e" + "\u0301" * 40 + "@", "\u0e49" * 20 + "@", "𝔸@😀", "İıſ@ﬁ", "\ufeff@x", "a\u200bb@",
    "a\u200dc@\u2060", "\ue000@", "\ufffe@\uffff", "\U000e0041@", "\u00ad@soft", "@" + "x" * 190, "№@ ½ ⅛", "@\u3164",
)  # fmt: skip
MARK = "zq"


def _marked(number: int, text: str) -> str:
    """Put the mark in; a doubled sign stays as one, and one that begins a formula too."""
    mark = f"{MARK}{number:02}"
    kept = text.replace("@SUM", "\0SUM").replace("@import", "\0import").replace("@@", "@")
    found = kept.replace("@", mark).replace("\0", "@")
    return found if mark in found else f"{found}{mark}" if set(found) == {"."} else f"{found} {mark}"


NAMES: tuple[str, ...] = tuple(_marked(number, text) for number, text in enumerate(_AS_NAMES))
# What no name may hold: it would turn or break the line that it stands in. Notes may.
TURNING = (
    "a\nb", "a\r\n=1+1", "\t=1+1", "\r@SUM(1)", "a\0b", "a\x07b", "\x1b[31mred\x1b[0m", "\x1b]0;title\x07", "a\x9b31mb",
    "31 \u202eoN\u202c", "\u2066left\u2069", "\u200fright", "a\u2028b", "a\u2029b", "\u061cx", "a\x7fb", "a\x08b",
    "\x1bc", "x\n0\nLINE\n8\ncut",
)  # fmt: skip
# File names that a system may be handed; each in one folder, none a path.
NO_SIGNS = (".", "..", "...", "....", "-", "/", "\\", "\0", "", " ", "\u202e", "\u0301", "<>", "\ud800")


def mark_of_name(number: int) -> str:
    """The mark of one of `NAMES`."""
    return f"{MARK}{number % len(NAMES):02}"


# Which fields of a job hold names of the user's own, or a reference to one.
OWN = frozenset(
    ("name", "rule", "reading", "underside", "chassis_top", "gap", "width", "end", "profile", "zone", "start", "top",
     "at", "to", "on", "shell_inside", "mark", "mark_on_shell", "mark_on_chassis", "lamp", "output", "wires", "circuit",
     "face", "outputs", "what", "copied", "moved_from")
)  # fmt: skip

CHOICES = (("end", "front"), ("end", "rear"), ("on", "shell"), ("on", "chassis"))  # words of the job's own


def _names_in(document: Any) -> Iterator[str]:
    """Every name that a table of the job gives, in order."""
    if isinstance(document, dict):
        if isinstance(document.get("name"), str):
            yield document["name"]
        for key, value in document.items():
            if key == "outputs":
                yield from value
            elif key in ("circuit", "face", "mark", "copied") and isinstance(value, str):
                yield value
            yield from _names_in(value)
    elif isinstance(document, list):
        for each in document:
            yield from _names_in(each)


def renamed(job: Job, names: Sequence[str], first: int = 0) -> Job:
    """The same job, every name in it replaced by one of these, one after the other from `first`; notes hold several.

    What refers to a name follows it; a name that stands for a thing of another table too follows in both.
    """
    document = job.model_dump(exclude_none=True, exclude_defaults=True)
    marks = {each["mark"] for each in document["readings"]} | {each["mark"] for each in document.get("gauges", [])}
    found = [each for each in dict.fromkeys(_names_in(document)) if each not in marks and each not in ("seat", "bench")]
    others = {old: _taken(names, first + place) for place, old in enumerate(found)}
    new = _with_names(document, others)
    new["notes"] = "\n".join(names[(first + each) % len(names)] for each in range(12))[:2000]
    new["demo"] = _taken(names, first + 1)
    return Job.model_validate(new)


def _taken(names: Sequence[str], place: int) -> str:
    """A name by its place; the second round through them gets a number, so that no two are alike."""
    turn, at = divmod(place, len(names))
    first = place // len(names)
    return names[at] if not first else f"{names[at]} {turn}"


def _with_names(document: Any, others: dict[str, str], key: str = "") -> Any:
    if isinstance(document, dict):
        return {name: _with_names(value, others, name) for name, value in document.items()}
    if isinstance(document, list):
        return [_with_names(each, others, key) for each in document]
    if isinstance(document, str) and key in OWN and (key, document) not in CHOICES:
        return others.get(document, document)
    return document
