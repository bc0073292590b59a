"""The order of a build: from the roof down, drilled before it is glued, nothing closed before it is tested."""

from __future__ import annotations

import networkx
import pytest
from sheets import DEMOS, demo

from modelmath.job.building.network import critical_path, one_pair_of_hands, tasks_of
from modelmath.job.building.order import GLUED
from modelmath.job.building.shell import opening
from modelmath.job.building.step import times


@pytest.fixture(scope="module", params=DEMOS)
def steps(request):
    return demo(request.param).steps


def place(steps, key: str) -> int:
    return next(step.number for step in steps if step.key == key)


def after(steps) -> networkx.DiGraph:
    graph = networkx.DiGraph()
    graph.add_nodes_from(step.key for step in steps)
    graph.add_edges_from((key, step.key) for step in steps for key in step.needs)
    return graph


def test_each_step_has_a_key_of_its_own_and_stands_behind_all_it_needs(steps):
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    assert len({step.key for step in steps}) == len(steps)
    graph = after(steps)
    assert networkx.is_directed_acyclic_graph(graph)
    for before, then in graph.edges:
        assert place(steps, before) < place(steps, then)


def test_what_must_be_over_first_is_needed_and_not_only_written_first(steps):
    """Common practice, no source: drill before gluing; strands once the solvent has gone; test before closing."""
    graph = after(steps)
    pairs = [("drill", "walls"), ("dry fit", "walls"), ("lenses", "feed"), ("flash off", "feed"), ("flash off", "seat")]
    pairs += [("test lamps", "leak test"), ("leak test", "close"), ("close", "run"), ("power off", "dry fit")]
    glued = [key for key in GLUED if key in graph]
    pairs += [(key, "flash off") for key in glued]
    assert len(glued) > 1
    for before, then in pairs:
        if before in graph and then in graph:
            assert then in networkx.descendants(graph, before), (before, then)


def test_nothing_is_bonded_before_the_dry_fit_and_the_chain_ends_in_the_run(steps):
    graph = after(steps)
    assert all(key in networkx.descendants(graph, "dry fit") for key in GLUED if key in graph)
    assert [key for key in graph if graph.out_degree(key) == 0] == ["run"]


def test_times_add_up_as_one_person_works(steps):
    tasks = tasks_of(steps)
    booked = one_pair_of_hands(tasks)
    whole = max(each.over_min for each in booked)
    assert whole >= sum(task.work_min for task in tasks)
    assert whole >= max(each.earliest_min + each.task.whole_min for each in critical_path(tasks))
    assert {step.kind for step in steps} <= set(times())


def test_the_first_step_says_how_the_shell_comes_off():
    assert "hinge the shell off about its rear end, 1.00 mm above its seat" in demo("railbus-ho").steps[0].text
    assert "lift the shell straight up" in demo("switcher-ho").steps[0].text
    obstacles = [each.model_dump() for each in demo("railmotor-oo").job.obstacles]
    (post,) = [each for each in obstacles if each["kind"] == "screw post"]
    screws = [{**post, "kind": "screw", "name": name} for name in ("cab screw", "nose screw")]
    found = opening(demo("railmotor-oo", obstacles=[*obstacles, *screws]))
    assert found.startswith("Take all power off, undo cab screw and nose screw, ")


def test_the_last_step_but_one_says_what_is_joined_and_what_still_comes_out():
    (close,) = [step for step in demo("gas-electric-o").steps if step.key == "close"]
    assert close.text.startswith(
        "Take all power off again. Put the six-pole plug together the way round that it is marked, "
    )
    chamber = {**demo("switcher-ho").job.chamber.model_dump(), "removable": ["speaker"]}
    (close,) = [step for step in demo("switcher-ho", chamber=chamber).steps if step.key == "close"]
    assert close.checks[-1] == "the speaker still comes out"
