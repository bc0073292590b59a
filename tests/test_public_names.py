"""The names that users import from the top of the package."""

import inspect

import pytest

import modelmath


@pytest.mark.parametrize("name", modelmath.__all__)
def test_a_public_name_is_there_and_says_what_it_is(name):
    member = getattr(modelmath, name)
    assert callable(member)
    # An own docstring: one that a class inherits, or that a dataclass makes up from its fields, says nothing of it.
    doc = vars(member).get("__doc__") if inspect.isclass(member) else member.__doc__
    assert doc
    assert not doc.startswith(f"{name}("), f"{name} has only the signature that was made for it"


def test_public_names_are_listed_once_and_shown():
    assert len(modelmath.__all__) == len(set(modelmath.__all__))
    assert set(modelmath.__all__) <= set(dir(modelmath))


def test_an_unknown_name_is_refused():
    with pytest.raises(AttributeError, match=r"^module 'modelmath' has no attribute 'parse_lenght'$"):
        modelmath.parse_lenght  # noqa: B018  asking is the test
