"""Every check stands in the list once, is found by its id, and says why and from where."""

from __future__ import annotations

import ast
import importlib
import pkgutil
from collections import Counter
from pathlib import Path
from typing import get_args

import pytest

import proofgen.checks
from proofgen.checks.frame import Check
from proofgen.checks.listed import CHECKS, LISTED
from proofgen.model.photo import PhotoProblem

MODULES = [
    importlib.import_module(f"proofgen.checks.{module.name}")
    for module in pkgutil.iter_modules(proofgen.checks.__path__)
]


def declared() -> list[tuple[str, Check]]:
    """Every check of the room, under the name it has in its module."""
    return [
        (name, one)
        for module in MODULES
        for name, one in vars(module).items()
        if isinstance(one, Check) and one.look.__module__ == module.__name__
    ]


def test_every_check_is_listed_once():
    assert Counter(id(one) for _, one in declared()) == Counter(id(one) for one in LISTED)


def test_no_two_checks_share_an_id():
    """Ids are for ever: what was accepted of one check must not let another's finding through."""
    assert [one for one, many in Counter(c.id for c in LISTED).items() if many > 1] == []
    assert len(CHECKS) == len(LISTED) > 40


@pytest.mark.parametrize("name, one", declared(), ids=lambda value: getattr(value, "id", ""))
def test_a_check_is_named_as_its_id_and_explains_itself(name, one):
    assert name == one.id.split("/")[1].replace("-", "_")
    assert one.why.endswith(".") and len(one.title.split()) > 2
    assert len(one.source.split()) > 2 or one.source


def test_every_trouble_of_a_photo_has_its_code():
    assert set(get_args(PhotoProblem)) <= set(CHECKS["photo/readable"].codes)


MAKERS = {"stop", "warn", "note", "skipped"}


def written_codes(source: str) -> Counter[str]:
    """How often each code is written where a remark is made."""
    return Counter(
        call.args[0].value
        for call in ast.walk(ast.parse(source))
        if isinstance(call, ast.Call)
        and isinstance(call.func, ast.Name)
        and call.func.id in MAKERS
        and isinstance(call.args[0], ast.Constant)
    )


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__.split(".")[-1])
def test_a_check_gives_a_code_at_one_place(module):
    """A code stands for one fault: what is accepted of it is accepted of that fault alone."""
    declared_codes = Counter(
        code for one in LISTED if one.look.__module__ == module.__name__ for code in one.codes
    )
    source = Path(module.__file__).read_text("utf-8")
    twice = {c: n for c, n in written_codes(source).items() if n > max(declared_codes[c], 1)}
    assert not twice


def test_a_code_at_two_places_is_seen():
    assert written_codes('yield stop("a", s)\nyield warn("a", s)\nyield note("b", s)') == {
        "a": 2,
        "b": 1,
    }
