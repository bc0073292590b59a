"""Kinds of instrument, repeats and chances in the document: defaults, round trips, and faults with line and field."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import DEMO_PATHS, DEMOS, SMALLEST, job

from modelmath import plan
from modelmath.job.bench.bench import Bench
from modelmath.job.document import Job, RuleEntry
from modelmath.job.storage.checks import check_job
from modelmath.job.storage.files import job_text, load_job, parse_job, save_job

KINDS = ["scale rule", "steel rule", "caliper", "depth gauge", "feelers", "putty gap"]
RULE = SMALLEST["rules"][0]


def with_rule(**fields) -> Job:
    return job(rules=[RULE, {"name": "other", **fields}])


@pytest.mark.parametrize(
    ("kind", "unit", "limit"),
    [("steel rule", "mm", 0.25), ("caliper", "mm", 0.02), ("depth gauge", "mm", 0.02), ("feelers", "mm", 0.025),
     ("putty gap", "mm", 0.05), ("scale rule", "scale foot", 0.4375)],
)  # fmt: skip
def test_a_kind_alone_is_an_instrument_as_it_usually_is(kind, unit, limit):
    rule = Bench(with_rule(kind=kind)).rules["other"]
    assert (rule.kind, rule.unit) == (kind, unit)
    assert float(rule.read_to_mm) / 2 == pytest.approx(limit)


def test_an_inch_caliper_is_as_fine_as_one_in_mm():
    rule = Bench(with_rule(kind="caliper", unit="in")).rules["other"]
    assert float(rule.read_to_mm) / 2 == pytest.approx(0.02)


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_is_saved_in_one_line_and_read_back(kind):
    made = with_rule(kind=kind)
    text = job_text(made)
    assert parse_job(text) == (made, [])
    assert "read_to" not in text
    assert text.count("kind = ") == (kind != "scale rule")


fields_of_rules = st.fixed_dictionaries(
    {"kind": st.sampled_from(KINDS)},
    optional={
        "unit": st.sampled_from(["scale foot", "scale inch", "mm", "in"]),
        "graduation": st.sampled_from(["1/4", "0.5", "0.01 mm"]),
        "offset_uncertainty": st.sampled_from(["0", "0.02 mm", "0.1"]),
        "zero_offset": st.sampled_from(["0", "1"]),
        "read_to": st.sampled_from(["0.04", "1/8", "0.04 mm"]),
        "reads": st.sampled_from(["nearest mark", "largest that passes"]),
        "scale_error_uncertainty": st.sampled_from([0.0, 0.001]),
        "calibrated_at": st.sampled_from(["0", "12.5"]),
    },
)


@given(fields_of_rules)
def test_whatever_is_entered_of_a_rule_survives_its_file(fields):
    """Also what is unusual for its kind and happens to be a field's own default."""
    made = with_rule(**fields)
    assert parse_job(job_text(made))[0] == made
    assert Job.model_validate(made.model_dump()) == made
    assert parse_job(job_text(made, job_text(job())))[0] == made


def test_a_field_left_empty_is_as_usual():
    assert RuleEntry(name="x", kind="caliper", read_to=None) == RuleEntry(name="x", kind="caliper")


@pytest.mark.parametrize("path", DEMO_PATHS, ids=lambda path: path.stem)
def test_saving_over_a_demo_keeps_every_line_and_comment(path, tmp_path):
    copy = tmp_path / path.name
    copy.write_bytes(path.read_bytes())
    made = load_job(copy)
    save_job(made, copy)
    assert copy.read_text("utf-8") == path.read_text("utf-8")
    clearance = made.clearance.model_copy(update={"chance": 0.002})
    save_job(made.model_copy(update={"clearance": clearance}), copy)
    after, before = copy.read_text("utf-8").splitlines(), path.read_text("utf-8").splitlines()
    assert load_job(copy).clearance.chance == 0.002
    assert len(set(before) - set(after)) <= 1
    assert len(set(after) - set(before)) == 1


def test_every_new_table_survives_its_file(tmp_path):
    made = DEMOS["railbus-ho"]
    fresh = save_job(made, tmp_path / "fresh.toml")
    assert load_job(fresh) == made
    text = fresh.read_text("utf-8")
    tables = ("[[gauges]]", "[[stations]]", "[[allow]]", "[temperature]", "[curve]", "[[moving]]", "[lift_off]")
    assert all(table in text for table in tables)


def text_with(entry: str, after: str = "") -> str:
    """The smallest job as a file, with some lines at its end or after another."""
    text = job_text(job())
    assert after in text
    return text.replace(after, f"{after}\n{entry}", 1) if after else f"{text}\n{entry}\n"


UNIT = "it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."
BASE = len(job_text(job()).splitlines())

FORM = [
    ('[[rules]]\nname = "x"\nkind = "calliper"', ('kind: it is \'calliper\'; write one of "scale rule", "steel rule", '
     '"caliper", "depth gauge", "feelers", "putty gap".')),
    ('[[gauges]]\nname = "leaf"\nrule = "scale rule"\nsize = 7\nmark = "1"', ('size: it is 7, without quotes; '
     'write size = "7 mm".')),
    ('[[gauges]]\nname = "leaf"\nrule = "scale rule"\nsize = "7 mm"', 'mark: it is missing; add mark = "...".'),
    ('[[stations]]\nname = "left"\nzone = "motor"\nwidth = "roof"', ("width: there is no such field; use one of name, "
     "zone, underside, chassis_top, gap.")),
    ('[[allow]]\nname = "tape"\nthickness = 0.06', ('thickness: it is 0.06, without quotes; '
     'write thickness = "0.06 mm".')),
    ('[[allow]]\nname = "tape"\nlayers = 0', "layers: it is 0; write 1 or more."),
    ('[temperature]\nchange = -5', "temperature, change: it is -5; write 0.0 or more."),
    ('[curve]\nradius = 15\npivots = "62 mm"', 'curve, radius: it is 15, without quotes; write radius = "15 mm".'),
    ('[lift_off]\nend = "back"', 'lift_off, end: it is \'back\'; write one of "front", "rear".'),
]  # fmt: skip


@pytest.mark.parametrize(("entry", "message"), FORM)
def test_a_wrong_form_is_said_with_its_place(entry, message, tmp_path):
    file = tmp_path / "hood.toml"
    file.write_text(text_with(entry), "utf-8")
    (fault,) = check_job(file)
    assert str(fault).startswith("hood.toml, line ")
    assert str(fault).endswith(message)
    line = int(str(fault).split("line ")[1].split(",")[0])
    field = message.split(":")[0].split(", ")[-1]
    said = file.read_text("utf-8").splitlines()[line - 1]
    assert said.startswith((f"{field} =", "[[gauges]]"))  # a missing field: the head of its table


@pytest.mark.parametrize(
    ("chance", "write"),
    [("0", "write a number above 0.0"), ("0.6", "write 0.5 or less"), ('"1 %"', "write a number, without quotes")],
)
def test_a_chance_outside_its_limits(chance, write):
    text = text_with(f"chance = {chance}", 'keep = "1/4 scale ft"')
    _, (fault,) = parse_job(text, "hood.toml")
    shown = chance.strip('"')
    given_ = f"'{shown}'" if '"' in chance else {"0": "0", "0.6": "0.6"}[shown]
    line = next(at for at, each in enumerate(text.splitlines(), 1) if each.startswith("chance"))
    assert str(fault) == f"hood.toml, line {line}, clearance, chance: it is {given_}; {write}."


@pytest.mark.parametrize(
    ("entry", "message"),
    [
        ('again = "9"', "again: it is '9', without brackets; write again = [\"...\"], with a comma between two."),
        ('again = ["9 1/4", 9]', 'again, entry 2: it is 9, without quotes; write "9".'),
    ],
)
def test_repeats_in_a_wrong_form(entry, message):
    text = text_with(entry, 'mark = "9 1/4"')
    _, (fault,) = parse_job(text, "hood.toml")
    line = next(at for at, each in enumerate(text.splitlines(), 1) if each.startswith("again"))
    assert str(fault) == f"hood.toml, line {line}, reading 1 ('roof'), {message}"


FAULTS = [
    (
        {"marking": {"rule": "other", "finest": "0.1"}, "kind": "feelers"},
        ("marking, rule: the rule is 'other'; expected one with marks to set. Feelers can't mark a part out."),
    ),
    (
        {"marking": {"rule": "other", "finest": "0.1"}, "kind": "putty gap"},
        ("marking, rule: the rule is 'other'; expected one with marks to set. Putty gap can't mark a part out."),
    ),
    (
        {"read_to": "0"},
        (
            "rule 2 ('other'): other: what it is read to is 0; it must be above 0. Write the least part of a mark that "
            "you read, or leave it out."
        ),
    ),
    (
        {"calibrated_at": "middle"},
        (
            "rule 2 ('other'), calibrated_at: 'middle': it is no number or unit; write a number with a unit, "
            "such as 15.9 mm, .040 in or 3 3/4 scale ft."
        ),
    ),
]


@pytest.mark.parametrize(("fields", "message"), FAULTS)
def test_an_instrument_that_makes_no_sense_is_one_fault_at_its_place(fields, message):
    marking = fields.get("marking", SMALLEST["marking"])
    rule = {"name": "other", **{name: value for name, value in fields.items() if name != "marking"}}
    made = job(rules=[RULE, rule], marking=marking)
    assert [str(fault) for fault in Bench(made, "hood.toml").faults] == [f"hood.toml, {message}"]


def test_a_bad_mark_among_repeats_is_shown_as_it_was_written():
    readings = [{"name": "roof", "mark": "9 1/4", "again": ["9 1/4", "9x"]}, SMALLEST["readings"][1]]
    (fault,) = Bench(job(readings=readings), "hood.toml").faults
    assert str(fault).startswith("hood.toml, reading 1 ('roof'), ")
    assert "'9x'" in str(fault)


def test_a_reading_that_stands_out_is_said_and_still_counts():
    readings = [{"name": "roof", "mark": "9 1/4", "again": ["9 1/4", "9 1/4", "9 1/2", "12"]}, SMALLEST["readings"][1]]
    found = plan(job(readings=readings))
    assert any(each.startswith("roof: Reading 5 of 5 stands out") for each in found.warnings)
    assert float(found.bench.readings["roof"].repeats.mean_mm) == pytest.approx(3.5 * 49.25 / 5)


def test_feelers_in_a_gap_lean_up_by_half_a_leaf():
    readings = [*SMALLEST["readings"], {"name": "gap", "mark": "1.5", "rule": "other"}]
    zones = [{"name": "motor", "gap": "gap"}]
    made = job(
        rules=[RULE, {"name": "other", "kind": "feelers"}],
        readings=readings,
        zones=zones,
        clearance={"keep": "0.2 mm"},
        marking={"rule": "scale rule", "finest": "1/16", "datum": "zero"},
    )
    assert float(plan(made).space.exact_mm) == pytest.approx(1.525)


def test_a_gauge_read_beyond_the_rule_is_one_fault_at_its_mark():
    document = DEMOS["railbus-ho"].model_dump()
    document["gauges"][0]["mark"] = "66"
    (fault,) = Bench(Job.model_validate(document)).faults
    assert fault.path == ("gauges", 0, "mark")
    assert "whose last mark is 48 scale ft" in str(fault)


def test_two_or_three_readings_that_differ_are_minded_and_equal_ones_are_not():
    def said(*again):
        readings = [{"name": "roof", "mark": "9 1/4", "again": list(again)}, SMALLEST["readings"][1]]
        return [each for each in plan(job(readings=readings)).warnings if each.startswith("roof:")]

    words = "readings that differ tell too little of their own scatter, so how sure it is may be stated too well."
    assert said("9 1/2") == [f"roof: 2 {words} Read it four times."]
    assert said("9 1/2", "9 1/4") == [f"roof: 3 {words} Read it four times."]
    assert said("9 1/4") == said("9 1/2", "9 1/4", "9 1/4") == said() == []
