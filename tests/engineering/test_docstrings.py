"""What every docstring of an engineering function must say."""

import importlib
import inspect
import pkgutil
import re

import pytest

from groundcheck import engineering

MODULES = [
    importlib.import_module(f"{engineering.__name__}.{found.name}")
    for found in pkgutil.iter_modules(engineering.__path__)
]
FUNCTIONS = [
    function
    for module in MODULES
    for name, function in inspect.getmembers(module, inspect.isfunction)
    if not name.startswith("_") and function.__module__ == module.__name__
]
UNIT = re.compile(r"\[[^\[\]\s][^\[\]]*\]")
WITHOUT_UNIT = ("int", "array_like of int", "array_like of bool", "array_like of str", "sequence of str")


def sections(function):
    """Sections of a numpy docstring by their heading."""
    parts = re.split(r"^([A-Z]\w+)\n-{3,}\n", inspect.getdoc(function), flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def entries(section):
    """(names, type, description) of each entry of a Parameters section."""
    blocks = re.split(r"\n(?=\S)", section.strip("\n"))
    return [(*block.split("\n", 1)[0].split(" : ", 1), block.split("\n", 1)[1]) for block in blocks]


@pytest.fixture(params=FUNCTIONS, ids=lambda function: function.__name__)
def function(request):
    return request.param


def test_parameters_name_exactly_the_arguments(function):
    documented = [name for names, _, _ in entries(sections(function)["Parameters"]) for name in names.split(", ")]
    assert documented == list(inspect.signature(function).parameters)


def test_arrays_have_a_shape(function):
    for names, kind, _ in entries(sections(function)["Parameters"]):
        assert not kind.startswith("array_like") or "shape (" in kind, names


def test_quantities_have_a_unit_in_brackets(function):
    for names, kind, description in entries(sections(function)["Parameters"]):
        assert kind.split(", ")[0] in WITHOUT_UNIT or UNIT.search(description), names


def test_a_returned_quantity_has_a_unit_in_brackets(function):
    returned = sections(function)["Returns"]
    without = re.match(r"(ndarray of (int|object)|list of|NetworkImpedances)", returned)
    assert without or UNIT.search(returned)


def test_raises_are_told(function):
    assert re.match(r"\w+Error\n    \S", sections(function)["Raises"])


def test_notes_end_with_the_source(function):
    assert sections(function)["Notes"].strip().split("\n\n")[-1].startswith("Source: ")


def test_types_are_annotated(function):
    signature = inspect.signature(function)
    assert signature.return_annotation is not inspect.Signature.empty
    assert all(p.annotation is not inspect.Parameter.empty for p in signature.parameters.values())


def test_every_public_function_can_be_imported_from_the_package():
    assert {function.__name__ for function in FUNCTIONS} <= set(engineering.__all__)
    assert all(hasattr(engineering, name) for name in engineering.__all__)
