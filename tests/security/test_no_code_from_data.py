"""What people type, and the files they are given, are never run: read in the code itself, all of it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[2] / "modelmath"
# Ways by which data becomes code, or a command, or a file at a name that somebody else may have taken first.
MODULES = {
    *("pickle", "cPickle", "_pickle", "dill", "cloudpickle", "joblib", "shelve", "marshal", "code", "codeop", "runpy"),
    *("yaml", "subprocess", "pty", "commands", "xml.dom", "xml.sax", "xmlrpc", "ctypes", "cffi"),
    *("urllib.request", "http", "http.client", "ftplib", "smtplib", "telnetlib", "requests", "httpx"),
}
WRITING = "xml.sax.saxutils"  # puts text into XML; reads none
NAMES = {"eval", "exec", "compile", "__import__", "input", "breakpoint"}
METHODS = {
    *("system", "popen", "spawnl", "spawnv", "execv", "execl", "execvp", "getoutput", "mktemp", "eval", "query"),
    *("read_pickle", "to_pickle", "read_html", "read_xml", "read_hdf", "read_sql", "read_parquet", "read_feather"),
    *("fromregex", "unpack_archive", "extractall", "extract"),
}
# numpy's and pandas' readers: each is named with what it is called with, so that none of them can unpickle.
READERS = {"load", "loadtxt", "genfromtxt", "fromfile", "memmap", "read_csv", "read_table", "read_json", "read_excel"}
MAY_READ = {("lengths/table/cells.py", "read_csv")}


def trees() -> Iterator[tuple[str, ast.Module]]:
    for file in sorted(PACKAGE.rglob("*.py")):
        yield file.relative_to(PACKAGE).as_posix(), ast.parse(file.read_text("utf-8"))


TREES = dict(trees())


def calls(tree: ast.Module) -> Iterator[tuple[str, str, ast.Call]]:
    """Each call: the name it goes by, what it is asked of, and the call."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            if isinstance(node.func, ast.Name):
                yield node.func.id, "", node
            elif isinstance(node.func, ast.Attribute):
                yield node.func.attr, ast.unparse(node.func.value), node


def imported(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (each.name for each in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{each.name}" for each in node.names)


def faults(tree: ast.Module) -> list[str]:
    """What in some code could run data, or reach out."""
    found = [
        name
        for name in imported(tree)
        if not name.startswith(WRITING) and any(name == each or name.startswith(f"{each}.") for each in MODULES)
    ]
    for name, of, call in calls(tree):
        if not of and name in NAMES:
            found.append(name)
        if of and name in METHODS:
            found.append(f"{of}.{name}")
        found += [each.arg for each in call.keywords if each.arg in ("shell", "allow_pickle", "trust_remote_code")]
    return found


def test_the_package_was_read():
    assert len(TREES) > 400


@pytest.mark.parametrize("code", [
    "import pickle", "from yaml import load", "from urllib import request", "eval(text)", "__import__(name)",
    "os.system(line)", "run(line, shell=True)", "np.load(file, allow_pickle=True)", "frame.eval(text)",
    "tempfile.mktemp()",
])  # fmt: skip
def test_each_of_these_would_be_found(code):
    assert faults(ast.parse(code))


def test_nothing_in_the_package_runs_data_or_reaches_out():
    assert {file: found for file, tree in TREES.items() if (found := faults(tree))} == {}


def test_numpy_and_pandas_read_text_only():
    found = {
        (file, name)
        for file, tree in TREES.items()
        for name, of, _ in calls(tree)
        if name in READERS and of in ("np", "numpy", "pd", "pandas")
    }
    assert found == MAY_READ


def test_spreadsheets_are_read_without_their_macros_links_or_formulas():
    found = [call for tree in TREES.values() for name, _, call in calls(tree) if name == "load_workbook"]
    assert len(found) == 1
    given = {each.arg: ast.literal_eval(each.value) for each in found[0].keywords}
    assert given == {"read_only": True, "data_only": True}


# An `assert` is gone under `python -O`. Ours tell the type checker what is so; the few below hold what the lines before
# them have made sure of, whatever was given.
OWN_SUMS = {
    "assert set(PARAMETERS) < {each.name for each in fields(Driver)}",  # our own tables
    "assert set(NAMES) < set(LABELS)",
    "assert len(self.risers) == len(self.floors) - 1",  # chambers that the search itself makes
    "assert all((one.floor_mm != next_.floor_mm for one, next_ in pairwise(self.floors)))",
    "assert exact.denominator == 1",  # the unit was chosen so that each length is a whole number of it
    "assert not left",
    "assert goal == BOUGHT_LENGTH",  # the last of the goals that the package itself sets
    "assert axis in (ACROSS, UP)",
}


def narrows(test: ast.expr) -> bool:
    """Whether a test only says what type something has."""
    if isinstance(test, ast.BoolOp):
        return all(map(narrows, test.values))
    if isinstance(test, ast.UnaryOp) and isinstance(test.op, ast.Not):
        return narrows(test.operand)
    if isinstance(test, ast.Compare):
        none = isinstance(test.comparators[0], ast.Constant) and test.comparators[0].value is None
        return len(test.ops) == 1 and isinstance(test.ops[0], ast.Is | ast.IsNot) and none
    return isinstance(test, ast.Call) and ast.unparse(test.func) == "isinstance"


def test_no_assert_guards_what_is_given():
    found = {
        file: ast.unparse(node)
        for file, tree in TREES.items()
        for node in ast.walk(tree)
        if isinstance(node, ast.Assert) and not narrows(node.test) and ast.unparse(node) not in OWN_SUMS
    }
    assert found == {}
