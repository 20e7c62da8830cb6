"""Every check stands in the list once, is found by its id, and says why and from where."""

from __future__ import annotations

import importlib
import pkgutil
from collections import Counter

import pytest

import proofgen.checks
from proofgen.checks.frame import Check
from proofgen.checks.listed import CHECKS, LISTED

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
