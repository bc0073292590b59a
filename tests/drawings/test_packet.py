"""The packet as a stranger would find it: complete, numbered, embedded, the same each time, safe to write."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from pdfminer.pdftypes import resolve1
from reportlab.lib.units import mm
from sheets import DEMOS, LEAST, demo, least, opened, packet, texts_of
from true_size import card_in

from modelmath.drawings import packet_pdf, write_packet
from modelmath.drawings.sheets.paper import SIDE
from modelmath.errors import JobError, UnknownChoice
from modelmath.files import file_name
from modelmath.job.cautions import cautions
from modelmath.lengths.text import format_length

ROOT = Path(__file__).resolve().parents[2]
SIZES = {"A4": (210 / 25.4 * 72, 297 / 25.4 * 72), "Letter": (8.5 * 72, 11 * 72)}  # ISO 216; ANSI/ASME Y14.1, size A
HOSTILE = "<b>Bold & \"quoted\"</para> 'mark' ]]> 漢"
TITLES = [
    "Bench card",
    "Overview",
    "Readings, as taken and corrected",
    "Clearance over",
    "Parts",
    "Strips",
    "Cut plan",
    "Build order",
    "Cautions",
    "Where each number comes from",
]


def whole(text):
    return f"^{re.escape(text)}$"


def closed_up(text):
    return "".join(text.split())


def columns_of(page):
    """Return the text of each of a page's two columns."""
    middle = page.width / 2
    return [page.crop((x0, 0, x1, page.height)).extract_text() for x0, x1 in ((0, middle), (middle, page.width))]


def test_pages_have_the_papers_size_and_their_number(any_plan, paper):
    pages = packet(any_plan, paper).pages
    for number, page in enumerate(pages, start=1):
        assert (page.width, page.height) == pytest.approx(SIZES[paper], abs=0.01)
        text = page.extract_text().splitlines()[-1]
        assert text == f"{any_plan.job.name} page {number} of {len(pages)}"


def test_sections_stand_in_order(any_plan, paper):
    text = "\n".join(page.partition("\nContents\n")[0] for page in texts_of(any_plan, paper))
    places = [re.search(rf"^{title}", text, re.MULTILINE) for title in TITLES]
    assert all(places)
    assert sorted(place.start() for place in places) == [place.start() for place in places]


def test_the_card_comes_first_with_every_setting_size_count_and_drill(any_plan, paper):
    pages = card_in(packet(any_plan, paper).pages)
    card = closed_up("".join(page.extract_text() for page in pages))
    column = (SIDE + 85 * mm, 0, SIDE + 120 * mm, pages[0].height)  # a long name takes two lines there
    pieces = closed_up("".join(page.crop(column).extract_text() for page in pages))
    assert texts_of(any_plan, paper)[len(pages)].startswith("Overview")
    assert closed_up(any_plan.job.name) in card
    assert closed_up(any_plan.marks.rule.name) in card
    for line in any_plan.lines:
        assert closed_up(line.setting.text) in card
        assert f"{line.part.count}×{closed_up(line.part.name)}" in pieces
        assert closed_up(format_length(line.part.cut.cut_mm, "mm")) in card
    for hole in any_plan.holes:
        assert closed_up(hole.drill.name) in card
        assert closed_up(f"{hole.count} × {hole.name}") in card
    assert ("Demo.Inventeddata" in card) == bool(any_plan.job.demo)


def test_settings_on_the_card_run_from_the_longest_cut_to_the_shortest():
    plan = demo()
    card = closed_up(texts_of(plan)[0])
    sizes = sorted({line.part.cut.cut_mm for line in plan.lines}, reverse=True)
    at = [card.index(closed_up(plan.marks.setting(size).text) + closed_up(format_length(size, "mm"))) for size in sizes]
    assert at == sorted(at)


def test_every_font_is_embedded(any_plan):
    names = set()
    for page in packet(any_plan).pages:
        for each in resolve1(page.page_obj.resources["Font"]).values():
            font = resolve1(each)
            names.add(str(font["BaseFont"]))
            assert "FontFile2" in resolve1(font["FontDescriptor"])
    assert len(names) >= 2


def test_text_is_8_points_or_more_and_everything_is_grey(any_plan):
    for page in packet(any_plan).pages:
        assert min(char["size"] for char in page.chars) >= 7.99
        for shape in [*page.chars, *page.lines, *page.rects, *page.curves]:
            for key in ("stroking_color", "non_stroking_color"):
                assert len(set(shape[key] or (0,))) == 1


def test_printing_is_asked_for_without_scaling():
    catalog = packet(least()).doc.catalog
    assert resolve1(catalog["ViewerPreferences"])["PrintScaling"].name == "None"


@pytest.mark.parametrize("name", DEMOS[:2])
def test_one_plan_gives_the_same_bytes_in_another_process(name):
    code = (
        "import hashlib, sys; from sheets import demo; from modelmath.drawings import packet_pdf;"
        "print(hashlib.sha256(packet_pdf(demo(sys.argv[1]), 'Letter')).hexdigest())"
    )
    path = os.pathsep.join([str(ROOT), str(ROOT / "tests")])
    env = {**os.environ, "PYTHONPATH": path, "PYTHONHASHSEED": "7"}
    ran = subprocess.run([sys.executable, "-c", code, name], env=env, capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == hashlib.sha256(packet_pdf(demo(name), "Letter")).hexdigest()


def test_a_date_is_printed_only_when_given():
    assert "3 May 1931" in opened(packet_pdf(least(), date="3 May 1931")).pages[0].extract_text()
    assert packet_pdf(least(), date="") == packet_pdf(least())


def test_names_are_printed_as_they_are_written(paper):
    rules = [{**LEAST["rules"][0], "name": HOSTILE}]
    readings = [{"name": HOSTILE, "mark": "10"}, {"name": "chassis top", "mark": "6"}]
    zones = [{"name": HOSTILE, "underside": HOSTILE, "chassis_top": "chassis top"}]
    plan = least(name=HOSTILE, rules=rules, readings=readings, zones=zones, marking={"rule": HOSTILE},
                 notes=f"{HOSTILE} \x00")  # fmt: skip
    pages = texts_of(plan, paper)
    shown = closed_up(HOSTILE)[:-1]
    assert any("�" in page for page in pages)  # what no font has, in the notes: a name can't have it
    for page in pages:
        assert shown in closed_up(page.splitlines()[-1])
    for title in TITLES[:4]:
        (page,) = [page for page in pages if re.search(rf"^{title}", page, re.MULTILINE)][:1]
        assert shown in closed_up(page)


def test_a_very_large_job_still_gives_a_packet():
    name = "W" * 190
    readings = [{"name": f"{name} {n}", "mark": "10" if n == 0 else "6"} for n in range(13)]
    zones = [{"name": f"{name} {n}", "underside": f"{name} 0", "chassis_top": f"{name} {n}"} for n in range(1, 13)]
    wires = [{"name": f"{name} {n}", "diameter": "0.6 mm"} for n in range(30)]
    pages = texts_of(least(name=name, readings=readings, zones=zones, wires=wires, demo="W " * 900))
    assert sum(page.count("#71") for page in pages) >= 2 * len(wires)  # on the card, in the build order, in the figures


def test_what_does_not_fit_is_said_and_the_other_sections_stand(paper):
    plan = demo(speaker={"name": "s", "length": "22 mm", "width": "16 mm", "flange": "1 mm", "depth": "30 mm"})
    pages = texts_of(plan, paper)
    card, rest = " ".join(pages[0].split()), " ".join(" ".join(pages[1:]).split())
    assert card.count("The speaker does not fit: 15.89 mm too little, because") == 1
    assert card.count("The plan leaves it out.") == 1
    assert "Its zero lies" in card
    assert "2 1/2 scale ft" in card  # the bulkhead, which does not depend on the speaker
    assert "#67" in card
    assert "hood roof 8 5/8 scale ft scale rule, its end 32.81 ± 0.18" in rest
    assert "Not worked out" not in rest
    assert "speaker support" not in rest


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_without_room_for_the_bulkhead_the_card_says_so_and_the_other_sections_stand(paper):
    plan = demo(clearance={"keep": "30 mm"})
    pages = texts_of(plan, paper)
    card, rest = " ".join(pages[0].split()), " ".join(" ".join(pages[1:]).split())
    assert card.count("Not worked out: The bulkhead does not fit:") == 1
    assert "#67" in card
    assert "hood roof 8 5/8 scale ft scale rule, its end 32.81 ± 0.18" in rest
    assert rest.count("Not worked out, for the reason on the bench card.") == 9
    assert "knife Cut away from the hand" in rest


def test_what_is_not_entered_yet_is_named():
    text = " ".join("\n".join(texts_of(least())).split())
    assert "Enter the length inside the shell to get the chamber and its volume." in text
    assert "no length was read, so the length drawn is nominal" in text


def test_build_order_holds_and_every_caution_with_its_source():
    plan = demo()
    text = closed_up("\n".join(texts_of(plan)))
    for step in plan.steps:
        for check in step.checks:
            assert closed_up(f"☐ {check}") in text
        assert (closed_up(f"Hold. {step.text}") in text) == step.hold
    listed = text[text.index("OnWhattodoSource") :]
    for caution in cautions():
        assert closed_up(caution.text)[:40] in listed
        assert closed_up(caution.source)[:12] in listed
    assert "localcodesorlicensedpractice" in text


def test_every_figure_is_listed_with_its_value():
    plan = demo()
    (first,) = [n for n, page in enumerate(texts_of(plan)) if page.startswith("Where each number comes from")]
    text = closed_up("".join(column for page in packet(plan).pages[first:] for column in columns_of(page)))
    assert len(plan.figures) > 30
    assert all(closed_up(figure.value)[:8] in text for figure in plan.figures.values())


def test_the_cut_plan_says_what_it_proves_and_what_to_buy():
    plan = demo()
    text = " ".join("\n".join(texts_of(plan)).split())
    assert f"P{plan.cuts.verdict[1:]}." in text
    assert len(plan.cuts.shopping) > 0
    for each in plan.cuts.shopping:
        assert f"{each.count} × {each.stock_name}, {float(each.length_mm):.2f} mm long" in text
    assert len(plan.to_buy) > len(plan.cuts.shopping)
    for each in plan.to_buy:
        assert each[1:] in text
    shut = closed_up(text)
    for strip in plan.cuts.strips:
        for cut in strip.cuts:
            assert closed_up(f"× {cut.part} {float(cut.length_mm):.2f} mm") in shut
    for sheet in plan.sheet_layout.layout.sheets:
        assert all(closed_up(piece.part) in shut for piece in sheet.pieces)


def test_writes_one_file_for_each_paper_into_a_new_folder(tmp_path):
    folder = tmp_path / "new" / "sheets"
    plan = demo()
    files = write_packet(plan, folder)
    stem = "tarn-valley-switcher-no-31"
    assert files == [folder / f"{stem}-a4.pdf", folder / f"{stem}-letter.pdf"]
    assert [file.read_bytes() for file in files] == [packet_pdf(plan, "A4"), packet_pdf(plan, "Letter")]
    assert sorted(folder.glob("*.pdf")) == files


def test_writes_only_the_paper_asked_for(tmp_path):
    assert [file.name for file in write_packet(least(), tmp_path, paper="letter")] == ["x-letter.pdf"]
    assert [file.name for file in tmp_path.glob("*.pdf")] == ["x-letter.pdf"]


def test_an_unknown_paper_is_refused_before_anything_is_written(tmp_path):
    text = whole("the paper is 'A5'; write one of A4, Letter. Did you mean 'A4'?")
    with pytest.raises(UnknownChoice, match=text):
        write_packet(least(), tmp_path / "new", paper="A5")
    assert not (tmp_path / "new").exists()


def test_a_folder_that_is_a_file_says_so(tmp_path):
    taken = tmp_path / "notes.txt"
    taken.write_text("keep me")
    text = f"{taken / 'x-a4.pdf'}: the packet can't be written: file exists; choose another folder."
    with pytest.raises(JobError, match=whole(text)):
        write_packet(least(), taken)
    assert taken.read_text() == "keep me"


def test_a_failed_write_leaves_the_old_packet_and_nothing_else(tmp_path, monkeypatch):
    (old,) = write_packet(least(), tmp_path, paper="A4")
    before = old.read_bytes()

    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    text = f"{old}: the packet can't be written: no space left on device; choose another folder."
    with pytest.raises(JobError, match=whole(text)):
        write_packet(least(clearance={"keep": "1/2 scale ft"}), tmp_path, paper="A4")
    assert old.read_bytes() == before
    assert [each for each in tmp_path.iterdir() if each.name != ".modelmath"] == [old]


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("Tarn Valley M-2", "tarn-valley-m-2"),
        ("../../etc/passwd", "etc-passwd"),
        ("a/b\\c:d*e?", "a-b-c-d-e"),
        ("CON", "con-job"),  # a device of one system
        ("\x00 .. ", "job"),
        ("Маневровый 5", "маневровый-5"),
        ("Q" * 200, "q" * 60),
    ],
)
def test_file_names_are_safe(name, wanted):
    assert file_name(name) == wanted


def test_the_elevation_needs_no_pdf_writer():
    code = (
        "import sys, modelmath, modelmath.drawings as d; d.side_elevation_svg;"
        "print([m for m in ('reportlab', 'matplotlib', 'numpy', 'pandas') if m in sys.modules])"
    )
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    ran = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True)
    assert ran.stdout == "[]\n"
