"""Sheet layouts: which part from which sheet, by lines that part a panel right across, and how good it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from math import gcd, lcm

from modelmath.cutting.sheet_layout.bounds import fewest_new, shortest
from modelmath.cutting.sheet_layout.check import check_equal_sets, check_listed, check_parts, check_width, least_snap
from modelmath.cutting.sheet_layout.every_way import MOST_PIECES, fewest_by_every_way
from modelmath.cutting.sheet_layout.fewest import (
    Laid,
    Piece,
    Supply,
    bought,
    laid_out,
    new_sheets,
    smaller_bought,
    with_fewer,
    with_fewer_begun,
)
from modelmath.cutting.sheet_layout.offcuts import fewer_pieces, larger_offcuts, worth_of
from modelmath.cutting.sheet_layout.one_sheet.filling import Filler, Pool
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, parted
from modelmath.cutting.sheet_layout.one_sheet.shorten import shorter_and_shorter
from modelmath.cutting.sheet_layout.plan import CutSheet, PieceOfSheet, SheetPlan, SheetVerdict
from modelmath.cutting.sheet_layout.snaps import Units, cut_sheet
from modelmath.cutting.sheet_layout.stock import SheetPart, SheetStock
from modelmath.cutting.stock import check_pieces
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import check_common_step
from modelmath.materials.exact import exact_mm
from modelmath.steps import InSteps, Progress, at_once

FEWER = (20_000, 100_000, 1_200_000)  # steps for fewer sheets, if more than the bound are used: a piece, least, most
LARGER = (10_000, 40_000, 300_000)  # steps for larger offcuts or a shorter piece: for each piece, least, most


def lay_out_sheet(
    parts: Sequence[SheetPart],
    stock: Sequence[SheetStock],
    *,
    least_snap_mm: Fraction | float | None = None,
    least_offcut_mm: Fraction | float = 0,
    kerf_mm: Fraction | float = 0,
    effort: int | None = None,
) -> SheetPlan:
    """Lay out flat parts on sheet that is scored and snapped: offcuts rather than whole sheets, few of either.

    Each line parts a panel right across, and leaves on both sides at least the least width that can be snapped off.
    What may be bought, as often as needed, is sheet of the rows without a count; where a kind has no such row, its
    largest full sheet listed. An offcut's size is never bought.

    The layout has the fewest sheets to buy that were found, then the fewest whole sheets begun, on hand and bought.
    Then, as far as was found, it has the least scrap, then opens the fewest pieces (offcuts and sheets), then leaves
    the largest single offcut, then measures a line for the equal side of the most parts of equal sets, then takes the
    fewest snaps and distances to set. It says whether the number of new sheets, those begun, is proven fewest, or
    what the bound is; of the rest nothing is proven. The same job gives the same layout.

    Parameters
    ----------
    parts : sequence of SheetPart
        What to cut. [mm]
    stock : sequence of SheetStock
        What to cut it from; rows of one name are one kind of sheet. [mm]
    least_snap_mm : Fraction, float or None
        Least width that is snapped off; None for three times the sheet's thickness, 0 for a saw. [mm]
    least_offcut_mm : Fraction or float
        Least side of an offcut worth keeping; what has a shorter one is scrap. [mm]
    kerf_mm : Fraction or float
        Width of the cut: 0 for a scored line, more for a saw. [mm]
    effort : int or None
        About how many steps to take, for each kind of sheet, on fewer sheets and again on larger offcuts; None for a
        fraction of a second. More may find fewer sheets, less scrap, larger offcuts. [-]

    Returns
    -------
    SheetPlan
        Sheets with their parts and snaps, verdict, what to buy.

    Raises
    ------
    OutOfRange, WrongKind
        If a number is no usable length, a part's sheet is not listed, its thickness is not known where it is needed,
        or parts of one equal set differ in length.
    DoesNotFit
        If a part is larger than any sheet or too narrow to snap off, or no place is found on what is on hand for a
        part that no sheet to buy holds.

    References
    ----------
    Three thicknesses as least width to snap: common practice, no source.

    Examples
    --------
    >>> sheet = SheetStock("1 mm sheet", 100, 50, thickness_mm=1)
    >>> plan = lay_out_sheet([SheetPart("bulkhead", 30, 20, 6, "1 mm sheet")], [sheet])
    >>> plan.new_sheets, [float(snap.at_mm) for snap in plan.sheets[0].snaps]
    (1, [30.0, 30.0, 20.0, 20.0, 20.0, 20.0])
    >>> plan.verdict
    'proven: no layout of 1 mm sheet uses fewer new sheets than 1 (any to buy 100.00 × 50.00 mm)'
    """
    return at_once(lay_out_sheet_in_steps(parts, stock, least_snap_mm, least_offcut_mm, kerf_mm, effort))


def lay_out_sheet_in_steps(
    parts: Sequence[SheetPart],
    stock: Sequence[SheetStock],
    least_snap_mm: Fraction | float | None = None,
    least_offcut_mm: Fraction | float = 0,
    kerf_mm: Fraction | float = 0,
    effort: int | None = None,
) -> InSteps[SheetPlan]:
    """Lay out flat parts as `lay_out_sheet` does, one kind of sheet after the other.

    Parameters
    ----------
    parts, stock, least_snap_mm, least_offcut_mm, kerf_mm : as for `lay_out_sheet`
        What to cut, from what, and how. [mm]
    effort : int or None
        About how many steps to take, as there. [-]

    Yields
    ------
    Progress
        Before each kind of sheet. [-]

    Returns
    -------
    SheetPlan
        As `lay_out_sheet`. [mm]

    Raises
    ------
    OutOfRange, WrongKind, DoesNotFit
        As `lay_out_sheet`.

    References
    ----------
    `lay_out_sheet`.
    """
    kerf, keep = exact_mm(kerf_mm, "kerf_mm", zero=True), exact_mm(least_offcut_mm, "least_offcut_mm", zero=True)
    given = None if least_snap_mm is None else exact_mm(least_snap_mm, "least_snap_mm", zero=True)
    check_equal_sets(parts)
    sheets: list[CutSheet] = []
    verdicts: list[SheetVerdict] = []
    names = list(dict.fromkeys(part.sheet_name for part in parts))
    for number, name in enumerate(names):
        yield Progress(f"Laying out on {name}", number / len(names))
        mine, rows = [part for part in parts if part.sheet_name == name], [row for row in stock if row.name == name]
        found, verdict = _lay_out_kind(name, mine, rows, given, keep, kerf, effort)
        sheets += found
        verdicts.append(verdict)
    numbered = tuple(replace(sheet, number=number) for number, sheet in enumerate(sheets, start=1))
    return SheetPlan(numbered, tuple(verdicts), kerf, keep)


def least_height(
    parts: Sequence[SheetPart],
    width_mm: Fraction | float,
    *,
    least_snap_mm: Fraction | float = 0,
    least_offcut_mm: Fraction | float = 0,
    kerf_mm: Fraction | float = 0,
    effort: int | None = None,
) -> PieceOfSheet:
    """Find how much of a sheet some parts need: the shortest piece of a sheet as wide as given that holds them all.

    Parameters
    ----------
    parts : sequence of SheetPart
        What to cut; `sheet_name` is not looked at. [mm]
    width_mm : Fraction or float
        The sheet's width. [mm]
    least_snap_mm : Fraction or float
        Least width that is snapped off. [mm]
    least_offcut_mm : Fraction or float
        Least side of an offcut worth keeping. [mm]
    kerf_mm : Fraction or float
        Width of the cut. [mm]
    effort : int or None
        About how many steps to take; None as for `lay_out_sheet`. [-]

    Returns
    -------
    PieceOfSheet
        The piece with its layout, and its bound. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If a number is no usable length, or parts of one equal set differ in length.
    DoesNotFit
        If a part is too wide for the sheet or too narrow to snap off.

    References
    ----------
    None needed: ever shorter pieces are tried.

    Examples
    --------
    >>> found = least_height([SheetPart("plate", 60, 40, 2, "1 mm"), SheetPart("wall", 20, 80, 1, "1 mm")], 80)
    >>> float(found.height_mm), found.proven
    (80.0, True)
    """
    width, least = exact_mm(width_mm, "width_mm"), exact_mm(least_snap_mm, "least_snap_mm", zero=True)
    kerf, keep = exact_mm(kerf_mm, "kerf_mm", zero=True), exact_mm(least_offcut_mm, "least_offcut_mm", zero=True)
    check_equal_sets(parts)
    longest = sum(part.count * (max(part.length_mm, part.width_mm) + kerf) for part in parts) + least + 1
    check_width(parts, width, least, kerf)
    units = _units(parts, [], width, least, keep, kerf)
    filler, pool = _filler(parts, units, least), _pool(parts)
    across, side = _whole(width + kerf, units), _whole(longest + kerf, units)
    bound = shortest([(filler.ways[part], n) for part, n in pool.items()], across)
    root = _shortened(filler.fill(side, across, pool), across)
    if pool:
        root = _in_a_row(filler, _pool(parts), across)
    for _, found in shorter_and_shorter(
        filler, _pool(parts), lambda length: (length, across), bound, root.length, _steps(parts, effort, LARGER)
    ):
        root = _shortened(found[0], across)
    blank = CutSheet(1, "sheet", "to buy", units.side(root.length), width, (), (), ())
    return PieceOfSheet(cut_sheet(root, parts, units, blank), units.side(bound))


def _in_a_row(filler: Filler, pool: Pool, width: int) -> Panel:
    """Return a piece with each part behind the other: where snaps leave no better way that is found at once."""
    row: Panel | None = None
    for part, count in pool.items():
        a = min(a for a, b in filler.ways[part] if filler.fits(width, b))
        for _ in range(count):
            each = filler.fill(a, width, {part: 1})
            row = parted(row.length + a, width, "width", each, row) if row else each
    return row or Panel(0, width)


def _shortened(root: Panel, width: int) -> Panel:
    """Return a piece without what is left free behind its parts, all across it."""
    above: list[tuple[Panel, Panel]] = []
    panel = root
    while panel.along == "width":
        above.append((panel, panel.halves[0]))
        panel = panel.halves[1]
    if panel.count or not above:
        return root
    _, panel = above.pop()
    for _, first in reversed(above):
        panel = parted(first.length + panel.length, width, "width", first, panel)
    return panel


def _lay_out_kind(
    name: str,
    parts: Sequence[SheetPart],
    rows: Sequence[SheetStock],
    given: Fraction | None,
    keep: Fraction,
    kerf: Fraction,
    effort: int | None,
) -> tuple[list[CutSheet], SheetVerdict]:
    """Lay out the parts of one kind of sheet."""
    check_listed(name, parts, rows)
    check_pieces(name, _pieces(parts))
    least = least_snap(name, rows, given)
    check_parts(name, parts, rows, least, kerf)
    units = _units(parts, rows, Fraction(0), least, keep, kerf)
    filler, pool, supply = _filler(parts, units, least), _pool(parts), _supply(rows, units, _pieces(parts))
    most = _steps(parts, effort, FEWER)
    laid, rest = laid_out(filler, pool, supply, most)
    if rest:
        raise _used_up(parts[min(rest)], bool(supply.to_buy))
    laid, bound, bound_if_bought = _with_fewest(filler, laid, pool, supply, most)
    steps = _steps(parts, effort, LARGER)
    laid = smaller_bought(filler, laid, supply, steps // 3)
    tries = [laid, *fewer_pieces(filler, laid, pool, supply, units, steps // 3)]
    tries = [larger_offcuts(filler, each, units, steps // len(tries)) for each in tries]
    laid = min(tries, key=lambda each: worth_of(filler, each, units))
    sheets = [
        cut_sheet(root, parts, units, CutSheet(0, name, piece.kind, *_sides(rows[piece.row]), (), (), ()))
        for piece, root in laid
    ]
    to_buy = tuple(sorted({_sides(rows[piece.row]) for piece in supply.to_buy}))
    return sheets, SheetVerdict(name, new_sheets(laid), bound, bound_if_bought, to_buy, least)


def _steps(parts: Sequence[SheetPart], effort: int | None, limits: tuple[int, int, int]) -> int:
    each, least, most = limits
    return min(most, max(least, each * sum(part.count for part in parts))) if effort is None else effort


def _sides(row: SheetStock) -> tuple[Fraction, Fraction]:
    return row.length_mm, row.width_mm


def _used_up(part: SheetPart, can_buy: bool) -> DoesNotFit:
    """Return the error for a part that no sheet to buy holds and that has no place on hand."""
    length, width, name = float(part.length_mm), float(part.width_mm), part.sheet_name
    what = f"{part.name}, {length:.2f} × {width:.2f} mm,"
    have = "and no sheet to buy holds it" if can_buy else "and no full sheet is listed"
    cause = f"no place was found for it on the {name} on hand, {have}"
    write = f'Add SheetStock("{name}", length_mm, width_mm) for sheet to buy that holds it.'
    return DoesNotFit(what, min(length, width), cause, write)


def _with_fewest(filler: Filler, laid: Laid, pool: Pool, supply: Supply, steps: int) -> tuple[Laid, int, int]:
    """Return the layout with fewest sheets to buy, then fewest begun; the bound on these if no more, or more is bought.

    What is on hand is free for the bound on what is bought: as if it were offcuts.
    """
    with_hand = Supply((*supply.offcuts, *supply.on_hand), (), supply.to_buy)
    laid = with_fewer(filler, laid, pool, supply, _bound(filler, pool, with_hand, bought(laid)), steps)
    bound = least = _bound(filler, pool, supply, new_sheets(laid))
    if supply.on_hand:
        bound = max(bound, _bound(filler, pool, supply, new_sheets(laid), bought(laid)))
        laid = with_fewer_begun(filler, laid, pool, supply, bound, steps)
    return laid, bound, least


def _bound(filler: Filler, pool: Pool, supply: Supply, enough: int, most_bought: int | None = None) -> int:
    parts = [(filler.ways[part], n) for part, n in pool.items()]
    offcuts, on_hand, to_buy = map(_both_sides, (supply.offcuts, supply.on_hand, supply.to_buy))
    bound = fewest_new(parts, offcuts, on_hand, to_buy, enough, most_bought)
    if bound == enough or sum(pool.values()) > MOST_PIECES:
        return bound
    pieces = [filler.ways[part] for part, n in pool.items() for _ in range(n)]
    return max(bound, fewest_by_every_way(pieces, offcuts, [*on_hand, *to_buy]) or 0)


def _both_sides(pieces: Sequence[Piece]) -> list[tuple[int, int]]:
    return [(piece.length, piece.width) for piece in pieces]


def _units(
    parts: Sequence[SheetPart],
    rows: Sequence[SheetStock],
    width: Fraction,
    least: Fraction,
    keep: Fraction,
    kerf: Fraction,
) -> Units:
    """Return the largest unit in which all lengths are whole: so that nothing hangs on the unit of what was given."""
    listed: list[SheetPart | SheetStock] = [*parts, *rows]
    sides = [side for each in listed for side in (each.length_mm, each.width_mm)]
    lengths = (width, least, keep, kerf, *sides)
    per_mm = check_common_step("sizes to lay out", lcm(*(length.denominator for length in lengths)))
    one_mm = Fraction(gcd(*(int(length * per_mm) for length in lengths)) or 1, per_mm)
    return Units(one_mm, int(kerf / one_mm), int(keep / one_mm))


def _whole(length: Fraction, units: Units) -> int:
    return int(length / units.one_mm)


def _filler(parts: Sequence[SheetPart], units: Units, least: Fraction) -> Filler:
    ways = [tuple((_whole(a, units) + units.kerf, _whole(b, units) + units.kerf) for a, b in p.ways) for p in parts]
    return Filler(ways, units.kerf, _whole(least, units) + units.kerf, units.equal_sides(parts))


def _pool(parts: Sequence[SheetPart]) -> Pool:
    return {number: part.count for number, part in enumerate(parts)}


def _pieces(parts: Sequence[SheetPart]) -> int:
    return sum(part.count for part in parts)


def _supply(rows: Sequence[SheetStock], units: Units, pieces: int) -> Supply:
    """Sort the stock by how it counts; with nothing listed to buy, the largest full sheet is what is bought.

    Of one row no more sheets count than there are pieces: each sheet that is used holds one at least.
    """
    every = [
        (
            Piece(
                "offcut" if row.offcut else "to buy" if row.count is None else "on hand",
                _whole(row.length_mm, units) + units.kerf,
                _whole(row.width_mm, units) + units.kerf,
                at,
            ),
            min(row.count or 0, pieces),
        )
        for at, row in enumerate(rows)
    ]
    every.sort(key=lambda each: (-each[0].area, each[0].row))
    offcuts = tuple(piece for piece, n in reversed(every) for _ in range(n) if not piece.new)
    on_hand = tuple(piece for piece, n in every for _ in range(n) if piece.kind == "on hand")
    to_buy = tuple(piece for piece, _ in every if piece.bought)
    if not to_buy and on_hand:
        to_buy = (replace(on_hand[0], kind="to buy"),)
    return Supply(offcuts, on_hand, to_buy)
