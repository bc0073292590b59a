"""Fields for readings that are still to be taken."""

from __future__ import annotations

import re
from html import unescape

from sample_jobs import DEMOS

from modelmath.job.begin import Answers, Stretch, begin
from modelmath.job.entries.unread import unread
from modelmath.job.next_model import copied
from modelmath.widgets.plan.to_measure import StillToMeasure

THREE = (Stretch("front"), Stretch("motor"), Stretch("cab", lower=True))


def plain(html):
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def asked(stretches=THREE):
    got = []
    panel = StillToMeasure(got.append)
    job = begin(Answers("Hood unit", zero="1", stretches=stretches)).job
    panel.show(job, 0)
    return panel, got


def test_it_asks_for_what_the_first_screen_does_not():
    panel, _ = asked()
    assert list(panel.fields) == ["lower roof", "chassis top over motor", "chassis top over cab"]
    assert panel.fields["lower roof"].label == "Lower roof"
    assert plain(panel.view.children[0].value) == (
        "The two readings above are those over front. These readings of the job are still to be taken; until then "
        "nothing is worked out."
    )


def test_a_reading_is_echoed_and_taken_into_the_job():
    panel, got = asked()
    panel.fields["lower roof"].value = "8"
    assert plain(panel.fields["lower roof"].message).startswith("31.50 mm above the seat: 28.00 mm and 3.50 mm for")
    tops = [f"chassis top over {name}" for name in ("front", "motor", "cab")]
    assert [each.name for each in unread(got[-1])] == ["roof", *tops]
    panel.show(got[-1], 0)
    assert "lower roof" in panel.fields  # it stays, to be mended
    panel.fields["lower roof"].value = "8 1/4"
    assert next(each.mark for each in got[-1].readings if each.name == "lower roof") == "8 1/4"


def test_a_wrong_one_is_said_and_nothing_is_taken():
    panel, got = asked()
    panel.fields["lower roof"].value = "8 1//4"
    assert 'role="alert"' in panel.fields["lower roof"].message
    assert got == []
    panel.fields["lower roof"].value = ""
    assert 'role="alert"' not in panel.fields["lower roof"].message


def test_one_height_leaves_nothing_to_ask():
    panel, _ = asked((Stretch(),))
    assert panel.view.children == ()


def test_where_a_stretch_ends_is_asked_from_the_front_of_its_half():
    job = copied(DEMOS["switcher-ho"], "next").job
    panel = StillToMeasure(lambda _job: None)
    panel.show(job, 0)
    said = {name: plain(field.message) for name, field in panel.fields.items()}
    assert said["screw, in the hood"] == "from the shell's front end, inside; a bare number counts mm"
    assert said["screw, on the chassis"] == "from the chassis' front end; a bare number counts mm"
    assert said["hood inside, width"] == "straight across; a bare number counts mm"


def test_another_job_begins_anew():
    panel, _ = asked()
    panel.fields["lower roof"].value = "8"
    panel.clear()
    assert panel.view.children == ()
    panel.show(begin(Answers("Another", stretches=THREE)).job, 2)
    assert list(panel.fields) == ["roof", "chassis top over front", "chassis top over motor"]
    assert all(field.value == "" for field in panel.fields.values())
