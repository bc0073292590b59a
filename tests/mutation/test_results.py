"""The count of what is killed, against printed intervals; the table of explanations."""

import re

import pytest
from mutation.results import Explanation, Result, Tally, read_explanations, wilson
from published import agrees_with_print

# R. G. Newcombe, Two-sided confidence intervals for the single proportion, Statistics in Medicine 17 (1998), table I,
# method 3 (score, without continuity correction); from memory.
PRINTED = {(81, 263): ("0.2553", "0.3662"), (15, 148): ("0.0624", "0.1605"), (0, 20): ("0.0000", "0.1611")}


@pytest.mark.parametrize(("share", "printed"), PRINTED.items())
def test_the_interval_of_a_share_is_the_printed_one(share, printed):
    low, high = wilson(*share)
    assert agrees_with_print(low, printed[0])
    assert agrees_with_print(high, printed[1])


def result(outcome, old="a < b", new="a <= b"):
    return Result(f"m::f::Op::{outcome}{new}", "modelmath/lengths/units.py", 5, old, new, outcome, "", 3, 0.5, "")


WHY = Explanation("modelmath/lengths/units.py", "a < b", ("a <= b",), "equivalent: a and b are never alike here")


def test_a_survivor_counts_against_the_share_whether_explained_or_not():
    results = [result("killed", new=str(n)) for n in range(8)] + [result("timeout"), result("survived")]
    tally = Tally("lengths", 400, results, [WHY])
    assert (tally.killed, tally.of("timeout"), tally.unexplained, tally.good) == (9, 1, [], True)
    assert tally.row() == "| lengths | 400 | 10 | 9 | 1 | 1 | 0 | 90.0 % (59.6 to 98.2) |"
    assert not Tally("lengths", 400, results[1:], [WHY]).good


def test_an_explanation_is_of_one_change_of_one_line_in_one_file():
    assert WHY.fits(result("survived"))
    assert not WHY.fits(result("survived", new="a == b"))
    assert not WHY.fits(result("survived", old="a < c"))
    assert not Tally("lengths", 400, [result("survived", new="a == b")], [WHY]).good


def test_every_explanation_says_what_kind_it_is_and_is_of_a_line_that_there_is():
    from mutation.mutants import ROOT

    explanations = read_explanations()
    assert len({(each.path, each.was, each.becomes) for each in explanations}) == len(explanations)
    for each in explanations:
        if each.path != "*":
            lines = {line.strip() for line in (ROOT / each.path).read_text("utf-8").splitlines()}
            assert each.was.split("\n")[0] in lines, f"{each.path} has no line {each.was!r} any more"


def test_a_reason_without_its_kind_is_refused(tmp_path):
    file = tmp_path / "explained.toml"
    file.write_text('[[explained]]\npath = "*"\nwas = "@cache"\nbecomes = ""\nreason = "never mind about this one"\n')
    text = "*, '@cache': a reason begins with equivalent, speed only, shows only, words only and says why"
    with pytest.raises(ValueError, match=f"^{re.escape(text)}$"):
        read_explanations(file)
