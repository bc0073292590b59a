"""The generated schema and reference, against the models, the demo jobs, and jsonschema's own judgement."""

from __future__ import annotations

import json
import re
import tomllib
from copy import deepcopy
from typing import Annotated, Any

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema.validators import Draft202012Validator
from pydantic import TypeAdapter, ValidationError
from sample_jobs import DEMO_PATHS, DEMOS, changed

from modelmath.job.document import Job
from modelmath.job.fields.base import Entry
from modelmath.job.plan import plan
from modelmath.job.storage.described import UNITS, described, entries_of, rows_of_fields, tables_of_a_job
from modelmath.job.storage.files import parse_job
from modelmath.job.storage.reference import SMALLEST, job_reference
from modelmath.job.storage.schema import job_schema, main, reference_files
from modelmath.lengths.parse import parse_length_exact, parse_prototype
from modelmath.quantities.text import KINDS, parse_quantity
from modelmath.tables import data_folder

SCHEMA = job_schema()
VALIDATOR = Draft202012Validator(SCHEMA)
DOCUMENTS = [tomllib.loads(path.read_text("utf-8")) for path in DEMO_PATHS]
FIELDS = [(table, name) for table in tables_of_a_job() for name in table.model_fields]
IDS = [f"{table.__name__}.{name}" for table, name in FIELDS]
KIND_OF = {
    "ohm": "resistance", "W": "power", "Hz": "frequency", "ratio": "ratio", "cm3": "volume", "mm2": "area",
    "mm": "length", "g": "mass", "mH": "inductance", "V": "voltage", "A": "current", "F": "capacitance", "s": "time",
}  # fmt: skip


@pytest.mark.parametrize("name", reference_files())
def test_the_generated_files_are_up_to_date(name):
    written = (data_folder() / "reference" / name).read_text("utf-8")
    assert written == reference_files()[name], "write them anew: python -m modelmath.job.storage.schema"


def test_the_command_writes_them(tmp_path):
    main(str(tmp_path))
    assert {each.name: each.read_text("utf-8") for each in tmp_path.iterdir()} == reference_files()


def test_it_is_a_schema():
    Draft202012Validator.check_schema(SCHEMA)
    assert json.loads(json.dumps(SCHEMA)) == SCHEMA


@pytest.mark.parametrize("document", DOCUMENTS, ids=[path.stem for path in DEMO_PATHS])
def test_every_demo_job_is_valid(document):
    jsonschema.validate(document, SCHEMA)


BROKEN: dict[str, dict[str, Any]] = {
    "no name": {"name": None},
    "no rule": {"rules": []},
    "a number for a text": {"scale": 87},
    "a field that is none": {"scales": "HO"},
    "a table for a list": {"readings": {"name": "roof", "mark": "9"}},
    "a choice that is none": {"marking": {"rule": "scale rule", "datum": "ends"}},
    "a chance above one half": {"clearance": {"keep": "1 mm", "chance": 0.6}},
    "a name on two lines": {"name": "hood\nshell"},
    "a name that turns its direction": {"name": "\u202ehood"},
    "a name of spaces": {"name": "  "},
    "a newer format": {"format": 99},
    "strip and sheet in one": {
        "drawer": [{"strip": ".080 sq", "sheet": ".040 sheet", "length": "6 in", "width": "6 in"}]
    },
    "a sheet without a width": {"drawer": [{"sheet": ".040 sheet", "length": "6 in"}]},
    "a text too long": {"clearance": {"keep": "1" * 61}},
    "true in quotes": {"decoder": {"length": "1 mm", "width": "1 mm", "height": "1 mm", "turns": "true"}},
}


@pytest.mark.parametrize("what", BROKEN)
def test_a_broken_job_is_refused(what):
    broken = {name: value for name, value in changed(**BROKEN[what]).items() if value is not None}
    assert not VALIDATOR.is_valid(broken)
    assert VALIDATOR.is_valid(changed())


VALUES: list[Any] = ["", "x", "1 mm", "x" * 61, "x" * 201, "a\nb", True, 0, 1, 7, 100, -1, 0.5, [], ["x"], {}, [{}]]
VALUES += ["caliper", "down", "front", "zero", "seat", {"name": "x"}, [{"name": "x"}]]


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    found = [path] if path else []
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, each in inside:
        found += places(each, (*path, key))
    return found


PLACES = [places(document) for document in DOCUMENTS]


@given(st.data())
def test_the_schema_and_the_models_judge_alike(data):
    at = data.draw(st.integers(0, len(DOCUMENTS) - 1))
    document = deepcopy(DOCUMENTS[at])
    *above, key = data.draw(st.sampled_from(PLACES[at]))
    owner = document
    for each in above:
        owner = owner[each]
    act = data.draw(st.sampled_from(["replace", "take out", "add"]))
    if act == "take out":
        del owner[key]
    elif act == "replace" or not isinstance(owner, dict):
        owner[key] = data.draw(st.sampled_from(VALUES))
    else:
        owner[data.draw(st.sampled_from(["name", "length", "x", "grams", "width", "sheet", "kind"]))] = "x"
    try:
        Job.model_validate(document)
        good = True
    except ValidationError:
        good = False
    assert VALIDATOR.is_valid(document) == good


def test_every_field_is_described_and_nothing_else():
    own = {(table.__name__, name) for table in tables_of_a_job() for name in vars(table).get("__annotations__", {})}
    assert set(rows_of_fields()) == own


@pytest.mark.parametrize(("table", "name"), FIELDS, ids=IDS)
def test_a_field_s_example_is_valid_and_in_its_unit(table: type[Entry], name: str):
    about, field = described(table, name), table.model_fields[name]
    if any(True for _ in entries_of(field.annotation)):
        assert about.unit == ("tables" if "list" in str(field.annotation) else "table")
        assert about.example is None
        return
    kind = TypeAdapter(Annotated[(field.annotation, *field.metadata)] if field.metadata else field.annotation)
    kind.validate_python(about.example, strict=True)
    if about.unit in ("length", "place"):
        parse_length_exact(about.example, scale="HO")
    elif about.unit == "prototype":
        parse_prototype(about.example)
    elif about.unit in KIND_OF and isinstance(about.example, str):
        assert parse_quantity(about.example, KIND_OF[about.unit]).value > 0
    else:
        assert about.unit in ("-", "mark", "K", "g", "mm3")
    assert about.unit in UNITS or about.unit in ("K", "g", "mm3") or about.unit in KINDS[KIND_OF[about.unit]]


def test_fields_of_a_length_or_a_quantity_say_so():
    """A field that takes a length may not be described as bare text."""
    for table, name in FIELDS:
        text = str(table.model_fields[name])
        if "max_length=60)" in text or ("max_length=100)" in text and "list" not in text):
            assert described(table, name).unit != "-" or name == "again", (table, name)


def test_the_reference_names_every_table_and_field():
    page = job_reference()
    for table, name in FIELDS:
        assert f"| `{name}` | {described(table, name).meaning} |" in page
    for heading in ("`[[rules]]`", "`[light.feed]`", "`[[light.strands]]`", "`[build]`"):
        assert re.search(rf"^## {re.escape(heading)}", page, re.MULTILINE), heading
    assert '| caliper | `unit = "mm"`, `graduation = "0.01 mm"`, `read_to = "0.04 mm"` |' in page


def test_the_smallest_job_of_the_reference_is_one():
    found, faults = parse_job(SMALLEST)
    assert faults == []
    # 8 5/8 less 5 1/8 scale feet of 3.5 mm is 12.25 mm; 0.7 mm is kept.
    assert float(plan(found).depths[0].free.exact_mm) == pytest.approx(12.25)
    assert SMALLEST in job_reference()


def test_usual_values_in_the_schema_are_those_of_the_models():
    assert SCHEMA["$defs"]["Build"]["properties"]["wall"]["default"] == DEMOS["switcher-ho"].build.wall == ".040 in"
    assert "default" not in SCHEMA["$defs"]["RuleEntry"]["properties"]["read_to"]
    assert SCHEMA["required"] == ["name", "scale", "rules", "marking", "clearance", "readings", "zones"]
