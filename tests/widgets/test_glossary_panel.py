"""The glossary's page, the fold with a place's words, and that no word of the trade is left unexplained."""

from __future__ import annotations

import re

import page_texts
import pytest
from pypdfium2 import PdfDocument  # comes with pdfplumber, and reads words alone much faster
from sheets import demo

from modelmath.drawings import packet_pdf
from modelmath.job.glossary import PACKET, find_words, glossary, words_in
from modelmath.widgets.glossary import EVERY, PAGES, SHEETS, WALKTHROUGH, GlossaryPanel, WordsUsedHere

SHOWN_LATER = {"check bar": "enclosure"}  # said once the packet is printed
# Words of the trade, chosen by reading the labels, the pages and the packet.
JARGON = """
-3 dB; at worst; AWG; basket; bench card; bore; build order; bulkhead; bundle; caliper; cancels;
capacitor; casting; chamber; chance of touching; chassis; clearance; clips; closure; cone; cone travel; crazed;
cross-section; datum; decoder; drill shank; drive line; dry fit; E12; E24; feeler; filler; flange; flash off;
floor plate; flywheel; fore-aft mark; forward voltage; free depth; gauge strip; gear tower; impedance; in parallel;
in series; keep-alive; kerf; LED; lens; light barrier; live frame; Mms; net volume; number drill; obstacle; offcut;
on end; overhang; packet; pin vice; pivot; pole; programming track; prototype; proven; putty;
Qes; Ql; Qms; Qtc; Qts; rectangular;
resistor; resonance; rim; riser; root sum of squares; runner-up; scale foot; scale inch; score; Sd; sealant; seat;
shim; side play; sill; sleeve; snap; solvent cement; standard uncertainty; standing wave; stay-alive; stop; strand;
stuffing; surround; sweep; template; terminals; test box; tolerance; trial end; triangular; truck; U-tube; Vas;
virtual bench; voice coil; web; wheelbase; Xmax; zero offset; zone
""".replace("\n", " ").split("; ")


@pytest.fixture(scope="module")
def told(tmp_path_factory):
    """What every page and the packet say; the panels keep what they write in a folder of their own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(tmp_path_factory.mktemp("workbook"))
        pages = {name: page_texts.page_text(name) for name in page_texts.names()}
    sheets = "\n".join(sheet.get_textpage().get_text_range() for sheet in PdfDocument(packet_pdf(demo())))
    return pages | {PACKET: sheets}


def uses(text, name):
    flags = 0 if re.search("[A-Z]", name) else re.IGNORECASE
    spaced = r"\s+".join(map(re.escape, name.split()))
    return re.search(rf"(?<![\w-]){spaced}", text, flags)


def test_no_word_of_the_trade_on_a_page_is_without_its_entry(told):
    names = [name.casefold() for word in glossary() for name in word.names]
    everything = "\n".join(told.values())
    used = [word.strip() for word in JARGON if uses(everything, word.strip())]
    assert len(used) >= 100
    assert not [word for word in used if not any(f"{name} ".startswith(f"{word.casefold()} ") for name in names)]


def test_a_word_is_met_where_the_glossary_says(told):
    met = {name: set(words_in(text)) for name, text in told.items()}
    said = [(word, name) for word in glossary() for name in word.pages if SHOWN_LATER.get(word.term) != name]
    assert not [(word.term, name) for word, name in said if word not in met[name]]


def test_pages_are_called_by_their_own_headings():
    assert {name for word in glossary() for name in word.pages} <= {*PAGES, PACKET}
    for name, title in PAGES.items():
        assert page_texts.heading(name).startswith(title)


def test_all_words_are_shown_at_first_each_with_its_source():
    panel = GlossaryPanel()
    assert panel.words.value.count("<dt>") == len(glossary())
    assert panel.words.value.count("Source: ") == len(glossary())
    assert f">{len(glossary())} words<" in panel.count.value
    assert panel.summary == f"{len(glossary())} words, from {glossary()[0].term} to {glossary()[-1].term}"


def test_the_list_follows_what_is_typed():
    panel = GlossaryPanel()
    panel.fields["word"].value = "kerf"
    assert panel.found == find_words("kerf")
    assert panel.words.value.startswith('<dl class="mm-words"><dt>kerf ')
    assert 'role="status">1 word<' in panel.count.value
    assert panel.fields["word"].control.continuous_update


def test_a_page_shows_its_own_words():
    panel = GlossaryPanel()
    panel.fields["page"].value = PAGES["moving"]
    assert panel.found == find_words(page="moving")
    panel.fields["page"].value = SHEETS
    assert panel.found == find_words(page=PACKET)
    assert panel.fields["page"].control.options[0] == EVERY
    assert panel.fields["page"].control.options[-1] == SHEETS


def test_a_word_that_is_not_there_is_said():
    panel = GlossaryPanel("flnge")
    assert panel.words.value == "<p>No word like “flnge”. The nearest is “flange”.</p>"
    assert panel.summary == "No word like “flnge”. The nearest is “flange”."
    panel.fields["word"].value = "qqqq <b>"
    assert panel.words.value == "<p>No word like “qqqq &lt;b&gt;”. Try a part of it.</p>"
    panel.fields["word"].value = "kerf"
    panel.fields["page"].value = PAGES["light"]
    assert panel.words.value == "<p>No word like “kerf” is met there; choose “every page”.</p>"


def test_links_lead_to_the_pages():
    links = set(re.findall(r'href="([^"]+)"', GlossaryPanel().words.value))
    assert links == {f"{name}.ipynb" for word in glossary() for name in word.pages if name != PACKET}
    assert all((page_texts.NOTEBOOKS / link).is_file() for link in links)


def test_the_fold_is_written_once_it_is_opened():
    fold = WordsUsedHere()
    assert fold.shown.value == ""
    fold.head.value = True
    assert fold.shown.value.count("<dt>") == len(WALKTHROUGH)
    assert 'href="glossary.ipynb">All ' in fold.shown.value
    own = WordsUsedHere("seat", "web", title="Two words")
    own.head.value = True
    assert own.head.description == "Two words"
    assert re.findall("<dt>(.*?)</dt>", own.shown.value) == ["seat", "web"]


def test_the_walkthrough_s_words_are_met_there(told):
    met = {word.term for word in words_in(told["enclosure"])}
    assert set(WALKTHROUGH) - met == set(SHOWN_LATER)
