"""Pictures drawn once: where the rule stands for the two readings."""

from __future__ import annotations

_INK = 'stroke="#1d1d1b" stroke-width="2" fill="none"'
_TEXT = 'font-family="DejaVu Sans, Verdana, sans-serif" fill="#1d1d1b"'
_SOLID = 'stroke="#1d1d1b" stroke-width="1.5" fill="#d9d7d0"'


def _rule(x: int, top: int, bottom: int, up: bool = True) -> str:
    """Return a rule standing on its end, with marks, its zero a little in from the end."""
    marks = []
    for place in range(10):
        y = bottom - 14 - 13 * place if up else top + 14 + 13 * place
        if top < y < bottom:
            marks.append(f'<line x1="{x}" y1="{y}" x2="{x + (12 if place % 4 == 0 else 7)}" y2="{y}" {_INK}/>')
    zero = bottom - 10 if up else top + 18
    return (
        f'<rect x="{x}" y="{top}" width="26" height="{bottom - top}" fill="#fff" stroke="#1d1d1b" stroke-width="2"/>'
        f'{"".join(marks)}<text x="{x + 14}" y="{zero}" font-size="11">0</text>'
    )


def _says(x: int, y: int, words: str, anchor: str = "start") -> str:
    return f'<text x="{x}" y="{y}" font-size="13" text-anchor="{anchor}">{words}</text>'


WHERE_THE_RULE_STANDS = f"""
<div class="mm-figure mm-pair"><svg viewBox="40 0 355 220" role="img" {_TEXT}
 aria-label="The chassis: the rule's end stands on the seat and is read at the highest point under the roof.">
<g><rect x="60" y="150" width="200" height="26" {_SOLID}/><rect x="110" y="82" width="100" height="68" {_SOLID}/>
<circle cx="95" cy="188" r="13" {_INK}/><circle cx="225" cy="188" r="13" {_INK}/>
{_rule(226, 22, 150)}<line x1="100" y1="82" x2="252" y2="82" {_INK} stroke-dasharray="5 4"/>
{_says(110, 74, "read here")}{_says(262, 148, "seat: the rule's end")}{_says(160, 121, "chassis", "middle")}
{_says(160, 212, "reading on the chassis", "middle")}</g></svg>
<svg viewBox="300 0 310 220" role="img" {_TEXT}
 aria-label="The shell upside down: the rule's end stands on the inside of the roof and is read at the edge that rests
 on the seat."><g><path d="M400 60 L400 176 L580 176 L580 60" {_INK} stroke-width="5"/>
{_rule(528, 14, 174)}<line x1="385" y1="60" x2="600" y2="60" {_INK} stroke-dasharray="5 4"/>
{_says(378, 64, "read here", "end")}{_says(520, 168, "rule's end", "end")}{_says(412, 92, "shell, turned")}
{_says(412, 108, "over")}{_says(490, 212, "reading in the shell", "middle")}</g></svg></div>"""
