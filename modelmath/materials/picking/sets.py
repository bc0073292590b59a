"""One stock for a whole set of parts, or the fewest different ones that serve them all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from modelmath.errors import ModelMathError, OutOfRange
from modelmath.lengths.scales import Scale
from modelmath.materials.drawer.strip import StockStrip
from modelmath.materials.exact import exact_mm
from modelmath.materials.picking.by_use import TOLERANCE_MM, wanted_of
from modelmath.materials.picking.held import check_count, enough_of
from modelmath.materials.picking.wanted import Wanted, mm_text
from modelmath.materials.sections.series import strip_series
from modelmath.materials.sections.sheets import Sheet, pick_sheets
from modelmath.materials.sections.strips import SERIES, Strip

MOST_SECTIONS = 10  # different demands in one set: every grouping of them is looked at


@dataclass(frozen=True)
class SetPart:
    """A part of a set: what it asks of the strip, and how many there are.

    Attributes
    ----------
    name : str
        What it is called. [-]
    height_mm : Fraction or float
        Its height. [mm]
    use : {"on end", "across", "flat", "on edge"}
        How the strip stands in the model. [-]
    count : int
        How many pieces. [-]
    width_mm : Fraction, float or None
        Least size the other way; across, the shell's inside width. [mm]
    stout_mm : Fraction, float or None
        Least thickness; by default as in `pick_strips`. [mm]
    length_mm : Fraction, float or None
        Length of each piece laid flat or on edge; None where it is not asked. [mm]
    """

    name: str
    height_mm: Fraction | float
    use: str
    count: int = 1
    width_mm: Fraction | float | None = None
    stout_mm: Fraction | float | None = None
    length_mm: Fraction | float | None = None


@dataclass(frozen=True)
class SetLine:
    """A part and what to do with the strip for it.

    Attributes
    ----------
    part : SetPart
        The part. [mm]
    error_mm : Fraction
        What the section gives less the height; 0 where the height is cut. [mm]
    advice : str
        What to do. [-]
    """

    part: SetPart
    error_mm: Fraction
    advice: str


@dataclass(frozen=True)
class SetStock:
    """A strip, or a sheet, and the parts of the set that are cut from it.

    Attributes
    ----------
    stock : Strip or Sheet
        The strip, or the sheet where no strip spans the shell. [mm]
    in_drawer : bool
        Whether it is on hand. [-]
    lines : tuple of SetLine
        The parts. [mm]
    remark : str
        What the drawer is short of; empty where it has enough. [-]
    """

    stock: Strip | Sheet
    in_drawer: bool
    lines: tuple[SetLine, ...]
    remark: str = ""

    @property
    def name(self) -> str:
        """Name of the strip or sheet. [-]"""
        return self.stock.name

    @property
    def made_good_mm(self) -> Fraction:
        """What is sanded or shimmed over all its pieces. [mm]"""
        return sum((abs(line.error_mm) * line.part.count for line in self.lines), Fraction(0))


@dataclass(frozen=True)
class SetPick:
    """What a set is cut from.

    Attributes
    ----------
    stocks : tuple of SetStock
        The strips, each with its parts. [mm]
    left_out : tuple of (SetPart, str)
        Parts that no strip serves, and why. [-]
    """

    stocks: tuple[SetStock, ...]
    left_out: tuple[tuple[SetPart, str], ...] = ()

    @property
    def made_good_mm(self) -> Fraction:
        """What is sanded or shimmed over all pieces. [mm]"""
        return sum((stock.made_good_mm for stock in self.stocks), Fraction(0))

    @property
    def said(self) -> str:
        """Whether one strip serves all, in a sentence. [-]"""
        parts = [line.part for stock in self.stocks for line in stock.lines]
        names = ", ".join(f"{stock.name}{'' if stock.in_drawer else ' (to buy)'}" for stock in self.stocks)
        if len(self.stocks) == 1:
            return f"One stock serves {'all' if not self.left_out else f'{len(parts)} of them'}: {names}."
        return f"No one stock serves them all; these {len(self.stocks)} do, and fewer can't: {names}."


def pick_for_set(
    parts: Sequence[SetPart],
    *,
    scale: Scale | str | None = None,
    drawer: Sequence[StockStrip] = (),
    tolerance_mm: Fraction | float = TOLERANCE_MM,
    sand_mm: Fraction | float | None = None,
    shim_mm: Fraction | float | None = None,
    kerf_mm: Fraction | float = 0,
    series: Sequence[str] = SERIES,
) -> SetPick:
    """Find one strip for a whole set; where none serves all, the fewest different ones.

    Every grouping of the parts is looked at. The fewest different strips come first; then the fewest to buy; then
    the least sanding and shimming over all pieces; then the least trimmed off what goes across. A strip of which
    the drawer may have too little counts as one to buy.

    Parameters
    ----------
    parts : sequence of SetPart
        The parts. [mm]
    scale : Scale, str or None
        For scale lumber from the series. [-]
    drawer : sequence of StockStrip
        Strip on hand. [mm]
    tolerance_mm : Fraction or float
        Largest section error that sanding or a shim is to make good. [mm]
    sand_mm, shim_mm : Fraction, float or None
        The most that may be sanded off and the most that may be shimmed up; by default `tolerance_mm` each. [mm]
    kerf_mm : Fraction or float
        What each cut takes away; 0 for a knife. [mm]
    series : sequence of {"scale lumber", "decimal inch", "metric"}
        The series to look in besides the drawer. [-]

    Returns
    -------
    SetPick
        The strips with their parts, and what no strip serves. [mm]

    Raises
    ------
    OutOfRange
        If there is no part, or more than 10 different demands; as `pick_strips` where no part is served.
    UnknownChoice, NotYetKnown, WrongKind, DoesNotFit
        As `pick_strips`.

    References
    ----------
    Least partition over subsets by dynamic programming: M. Held and R. M. Karp, J. SIAM 10 (1962) 196, for the
    way of it. Sanding and shimming: common practice, no source.

    Examples
    --------
    >>> posts = [SetPart("front post", 31.5, "on end", 2), SetPart("rear post", 24, "on end", 2)]
    >>> pick_for_set([*posts, SetPart("seat", 2, "flat", 2)], series="metric").said
    'One stock serves all: 2 x 2 mm (to buy).'
    """
    if not parts:
        raise OutOfRange("the set", "empty", "one part or more", "Write a part, such as post; 31.5 mm; on end; 4.")
    chosen = (series,) if isinstance(series, str) else tuple(series)
    wanted = [
        wanted_of(part.height_mm, part.use, scale, part.width_mm, part.stout_mm, tolerance_mm, sand_mm, shim_mm)
        for part in parts
    ]
    for part in parts:
        check_count(part.count)
    offers = list(_offers(wanted, drawer, chosen))
    left_out = [_left_out(each, offers) for each in wanted]
    served = [place for place, reason in enumerate(left_out) if reason is None]
    if not served:
        raise next(reason for reason in left_out if reason is not None)
    kerf = exact_mm(kerf_mm, "kerf_mm", zero=True)
    choice = _Choice([parts[one] for one in served], [wanted[one] for one in served], offers, drawer, kerf)
    lost = [(part, str(reason)) for part, reason in zip(parts, left_out, strict=True) if reason is not None]
    return SetPick(choice.stocks(), tuple(lost))


@dataclass(frozen=True)
class _Offer:
    """A strip or sheet that could serve some of the set."""

    stock: Strip | Sheet
    in_drawer: bool

    def serves(self, wanted: Wanted) -> bool:
        if isinstance(self.stock, Sheet):
            return wanted.use == "across" and wanted.stout_mm <= self.stock.thickness_mm <= wanted.width_mm
        return wanted.stout(self.stock) and (not wanted.by_section or wanted.near(self.stock))

    def error_mm(self, wanted: Wanted) -> Fraction:
        return Fraction(0) if isinstance(self.stock, Sheet) else wanted.error_mm(self.stock)

    def trim_mm(self, wanted: Wanted) -> Fraction:
        if isinstance(self.stock, Sheet) or wanted.use != "across":
            return Fraction(0)
        return self.stock.width_mm - wanted.width_mm

    def advice(self, wanted: Wanted) -> str:
        return wanted.advice_for_sheet(self.stock) if isinstance(self.stock, Sheet) else wanted.advice(self.stock)


def _offers(wanted: list[Wanted], drawer: Sequence[StockStrip], series: Sequence[str]) -> Iterator[_Offer]:
    """Yield all there is, what is on hand first, then by what suits when all else is equal."""
    on_end = any(each.use == "on end" for each in wanted)

    def suits(strip: Strip) -> tuple[Fraction, Fraction, Fraction, str]:
        shape = strip.width_mm / strip.thickness_mm if on_end else abs(strip.width_mm - 2 * strip.thickness_mm)
        return (shape, strip.thickness_mm, strip.width_mm, strip.name)

    own = sorted({stock.strip for stock in drawer}, key=suits)
    yield from (_Offer(strip, True) for strip in own)
    sold = set(strip_series(wanted[0].scale, series)) - set(own)
    yield from (_Offer(strip, False) for strip in sorted(sold, key=suits))
    if any(each.use == "across" for each in wanted) and set(series) - {"scale lumber"}:
        yield from (_Offer(sheet, False) for sheet in pick_sheets(0, series))


def _left_out(wanted: Wanted, offers: list[_Offer]) -> ModelMathError | None:
    """Return why nothing serves a part; None where something does."""
    if any(offer.serves(wanted) for offer in offers):
        return None
    strips = [offer.stock for offer in offers if isinstance(offer.stock, Strip)]
    stout = [strip for strip in strips if wanted.stout(strip)]
    if not stout:
        return wanted.nothing_stout(strips)
    return wanted.nothing_near(min(stout, key=lambda strip: abs(wanted.error_mm(strip))))


Rank = tuple[int, int, int, int]  # different strips, those to buy, sanding and shimming, trimming


class _Choice:
    """The search over all groupings of the different demands of a set."""

    def __init__(
        self,
        parts: list[SetPart],
        wanted: list[Wanted],
        offers: list[_Offer],
        drawer: Sequence[StockStrip],
        kerf_mm: Fraction,
    ) -> None:
        self.parts, self.wanted, self.drawer, self.kerf_mm = parts, wanted, drawer, kerf_mm
        self.groups = _alike(wanted)
        if len(self.groups) > MOST_SECTIONS:
            given = f"{len(self.groups)} different demands"
            raise OutOfRange("the set", given, f"{MOST_SECTIONS} or fewer", "Enter it in two sets.")
        self.offers = self._distinct(offers)
        self.singles = {mask: self._best_for(mask) for mask in range(1, 1 << len(self.groups))}

    def _costs(self, offer: _Offer) -> list[tuple[Fraction, Fraction] | None]:
        """Return what each demand costs with a strip: sanding and shimming, and trimming; None where it won't do."""
        found: list[tuple[Fraction, Fraction] | None] = []
        for group in self.groups:
            wanted, count = self.wanted[group[0]], sum(self.parts[one].count for one in group)
            cost = (abs(offer.error_mm(wanted)) * count, offer.trim_mm(wanted) * count)
            found.append(cost if offer.serves(wanted) else None)
        return found

    def _distinct(self, offers: list[_Offer]) -> list[tuple[_Offer, list[tuple[int, int] | None]]]:
        """Return the offers with their costs in whole small parts of a mm; of those to buy that cost alike, one."""
        costs = [(offer, self._costs(offer)) for offer in offers]
        unit = lcm(*(each.denominator for _, cost in costs for pair in cost if pair for each in pair))
        kept: dict[object, tuple[_Offer, list[tuple[int, int] | None]]] = {}
        for offer, cost in costs:
            whole = [None if pair is None else (int(pair[0] * unit), int(pair[1] * unit)) for pair in cost]
            if any(whole):
                kept.setdefault(offer if offer.in_drawer else tuple(whole), (offer, whole))
        return list(kept.values())

    def _members(self, mask: int) -> list[int]:
        return [one for place, group in enumerate(self.groups) if mask >> place & 1 for one in group]

    def _enough(self, offer: _Offer, mask: int) -> str:
        """Return what the drawer is short of for these parts; empty where it has enough."""
        pieces: list[Fraction] = []
        for one in self._members(mask):
            part, wanted = self.parts[one], self.wanted[one]
            piece = wanted.height_mm
            if wanted.by_section:
                piece = Fraction(0) if part.length_mm is None else exact_mm(part.length_mm, "length_mm")
            pieces += [piece] * part.count
        lengths = [stock.length_mm for stock in self.drawer if stock.strip == offer.stock for _ in range(stock.count)]
        if enough_of(lengths, pieces, self.kerf_mm):
            return ""
        have, need = sum(lengths, Fraction(0)), sum(pieces, Fraction(0))
        if have < need:
            return f"The drawer has {mm_text(have)} of it, and the pieces take {mm_text(need)}: buy more of it."
        return "What the drawer has of it may be too little for all the pieces; a cut plan tells."

    def _best_for(self, mask: int) -> tuple[Rank, _Offer, str] | None:
        """Return the one strip that is best for a group of demands; None where none serves them all."""
        places = [place for place in range(len(self.groups)) if mask >> place & 1]
        fit = []
        for order, (offer, costs) in enumerate(self.offers):
            pairs = [costs[place] for place in places]
            if all(pair is not None for pair in pairs):
                sanding, trimming = (sum(pair[way] for pair in pairs if pair is not None) for way in (0, 1))
                fit.append((sanding, trimming, order, offer))
        best: tuple[Rank, _Offer, str] | None = None
        for sanding, trimming, _, offer in sorted(fit, key=lambda each: each[:3]):
            if best is not None and not offer.in_drawer:
                continue
            remark = self._enough(offer, mask) if offer.in_drawer else ""
            rank = (1, int(bool(remark) or not offer.in_drawer), sanding, trimming)
            if best is None or rank < best[0]:
                best = (rank, offer, remark)
            if not rank[1]:
                break
        return best

    def stocks(self) -> tuple[SetStock, ...]:
        """Return the best grouping: of all ways to part the demands, each group with its best strip."""
        least: dict[int, tuple[Rank, tuple[int, ...]]] = {0: ((0, 0, 0, 0), ())}
        for mask in range(1, 1 << len(self.groups)):
            lowest, rest = mask & -mask, mask & (mask - 1)
            taken = rest
            while True:  # every group with the first demand in it
                single, other = self.singles[taken | lowest], least.get(rest ^ taken)
                if single is not None and other is not None:
                    rank = tuple(a + b for a, b in zip(single[0], other[0], strict=True))
                    if mask not in least or rank < least[mask][0]:
                        least[mask] = (rank, (taken | lowest, *other[1]))  # type: ignore[assignment]
                if not taken:
                    break
                taken = (taken - 1) & rest
        chosen = least[(1 << len(self.groups)) - 1][1]
        return tuple(self._stock(mask) for mask in sorted(chosen, key=lambda mask: min(self._members(mask))))

    def _stock(self, mask: int) -> SetStock:
        single = self.singles[mask]
        assert single is not None
        _, offer, remark = single
        members = sorted(self._members(mask))
        lines = [
            SetLine(self.parts[one], offer.error_mm(self.wanted[one]), offer.advice(self.wanted[one]))
            for one in members
        ]
        return SetStock(offer.stock, offer.in_drawer, tuple(lines), remark)


def _alike(wanted: list[Wanted]) -> list[list[int]]:
    """Group parts that ask the same of a strip: of what is cut to length, the length is no matter."""
    groups: dict[tuple[str, Fraction, Fraction, Fraction], list[int]] = {}
    for place, each in enumerate(wanted):
        asked = (each.use, each.height_mm if each.by_section else Fraction(0), each.width_mm, each.stout_mm)
        groups.setdefault(asked, []).append(place)
    return [groups[asked] for asked in sorted(groups)]  # so the order in which parts are listed is no matter
