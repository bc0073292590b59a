"""An independent check of a sheet layout: the snaps are replayed on the whole sheet, the places compared by shapely."""

from collections import Counter
from itertools import combinations

from shapely.geometry import box


def rectangle(place):
    x, y, length, width = map(float, place)
    return box(x, y, x + length, y + width)


def place_of(each):
    return (each.x_mm, each.y_mm, each.length_mm, each.width_mm)


def check_places(sheet):
    """Parts and offcuts lie inside the sheet, and none lies over another."""
    for x, y, length, width in map(place_of, (*sheet.pieces, *sheet.offcuts)):
        assert min(x, y) >= 0
        assert min(length, width) > 0
        assert x + length <= sheet.length_mm
        assert y + width <= sheet.width_mm
    places = [rectangle(place_of(each)) for each in (*sheet.pieces, *sheet.offcuts)]
    assert all(one.intersection(other).area < 1e-9 for one, other in combinations(places, 2))


def replay(sheet, kerf, least):
    """Snap the whole sheet as the list says; return the panels that come of it."""
    panels = [(0, 0, sheet.length_mm, sheet.width_mm)]
    left = {panels[0]: set()}  # of each panel the sides, across lines of one way, that no line was measured for
    for number, snap in enumerate(sheet.snaps, start=1):
        assert snap.number == number
        assert snap.panel in panels, "a panel is snapped that is not there (yet)"
        panels.remove(snap.panel)
        x, y, length, width = snap.panel
        across = snap.along == "width"
        assert snap.from_edge == ("left edge" if across else "lower edge")
        side = length if across else width
        rest = max(0, side - snap.at_mm - kerf)
        assert 0 < snap.at_mm < side
        assert snap.at_mm >= least
        assert rest >= least or (kerf and rest == 0), "what is parted off is too narrow"
        near = (x, y, snap.at_mm, width) if across else (x, y, length, snap.at_mm)
        at = snap.at_mm + kerf
        far = (x + at, y, rest, width) if across else (x, y + at, length, rest)
        panels += [near, far] if rest else [near]
        done = Counter(each.part for each in sheet.pieces if place_of(each) in (near, far))
        assert Counter(snap.frees) == done
        left[near], left[far] = left[snap.panel] - {snap.along}, left[snap.panel] | {snap.along}
        assert Counter(snap.rest) == Counter(
            each.part for each in sheet.pieces if place_of(each) in (near, far) and left[place_of(each)]
        )
    return panels


def check_sheet(sheet, kerf, least, least_offcut):
    check_places(sheet)
    panels = Counter(replay(sheet, kerf, least))
    pieces = Counter(place_of(piece) for piece in sheet.pieces)
    kept = Counter(place_of(offcut) for offcut in sheet.offcuts)
    assert not (pieces + kept) - panels, "a part or an offcut is not what the snaps give"
    scrap = panels - pieces - kept
    assert all(min(length, width) < least_offcut for _, _, length, width in scrap.elements())
    assert all(min(length, width) >= least_offcut for _, _, length, width in kept.elements())
    saw = sum(kerf_area(snap, kerf) for snap in sheet.snaps)
    area = sum(length * width for _, _, length, width in panels.elements())
    assert area + saw == sheet.length_mm * sheet.width_mm
    assert sheet.scrap_mm2 == saw + sum(length * width for _, _, length, width in scrap.elements())


def kerf_area(snap, kerf):
    _, _, length, width = snap.panel
    side, across = (length, width) if snap.along == "width" else (width, length)
    return min(kerf, side - snap.at_mm) * across


def check_plan(plan, parts, stock):
    """Every part is there as often as wanted and as it may lie; no sheet on hand is used twice; numbers agree."""
    known = {part.name: part for part in parts}
    assert len(known) == len(parts)
    assert Counter(piece.part for sheet in plan.sheets for piece in sheet.pieces) == Counter(
        {part.name: part.count for part in parts}
    )
    least = {verdict.stock_name: verdict.least_snap_mm for verdict in plan.verdicts}
    for sheet in plan.sheets:
        check_sheet(sheet, plan.kerf_mm, least[sheet.stock_name], plan.least_offcut_mm)
        for piece in sheet.pieces:
            part = known[piece.part]
            assert part.sheet_name == sheet.stock_name
            sides = (piece.width_mm, piece.length_mm) if piece.turned else (piece.length_mm, piece.width_mm)
            assert sides == (part.length_mm, part.width_mm)
            assert part.may_turn or not piece.turned
    check_stock(plan, stock)
    for verdict in plan.verdicts:
        mine = [sheet for sheet in plan.sheets if sheet.stock_name == verdict.stock_name]
        assert verdict.new_sheets == sum(sheet.kind != "offcut" for sheet in mine)
        assert verdict.bound <= verdict.new_sheets
        assert verdict.proven == (verdict.bound == verdict.new_sheets)
    assert plan.new_sheets == sum(sheet.kind != "offcut" for sheet in plan.sheets)
    assert sum(line.count for line in plan.shopping) == sum(sheet.kind == "to buy" for sheet in plan.sheets)
    assert [sheet.number for sheet in plan.sheets] == list(range(1, len(plan.sheets) + 1))
    for name in {part.equal_set for part in parts} - {None}:
        assert len({part.length_mm for part in parts if part.equal_set == name}) == 1
        for sheet in plan.sheets:
            check_equal_sides(sheet, {part.name for part in parts if part.equal_set == name})


def check_equal_sides(sheet, names):
    """The equal side of each part of a set is set by a line measured for it, is the sheet's own, or is in `rest`."""
    told = Counter(name for snap in sheet.snaps for name in snap.rest)
    loose = Counter()
    for piece in sheet.pieces:
        if piece.part not in names:
            continue
        way, side, whole, start = (
            ("length", piece.width_mm, sheet.width_mm, piece.y_mm)
            if piece.turned
            else ("width", piece.length_mm, sheet.length_mm, piece.x_mm)
        )
        mine = [snap for snap in sheet.snaps if snap.along == way and snap.panel[way == "length"] == start]
        if side != whole and not any(snap.at_mm == side for snap in mine):
            loose[piece.part] += 1
    assert not loose - told, "a part of an equal set is cut at two settings, and is not said to be the rest"


def check_stock(plan, stock):
    have = Counter()
    for row in stock:
        have[row.name, row.length_mm, row.width_mm, "offcut" if row.offcut else "on hand"] += row.count or 0
    used = Counter((each.stock_name, each.length_mm, each.width_mm, each.kind) for each in plan.sheets)
    bought = {key: count for key, count in used.items() if key[3] == "to buy"}
    assert all(count <= have[key] for key, count in used.items() if key not in bought)
    for name, length, width, _ in bought:
        listed = [row for row in stock if row.name == name and not row.offcut]
        listed = [row for row in listed if row.count is None] or listed
        assert (length, width) in {(row.length_mm, row.width_mm) for row in listed}
