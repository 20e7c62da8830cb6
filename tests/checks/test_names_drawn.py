"""Names as they are: how often the check of names speaks up where nothing is wrong."""

from __future__ import annotations

from dataclasses import replace

import pytest

from proofgen.checks.listed import CHECKS
from proofgen.checks.runner import run_check
from proofgen.model import Customer
from tests.checks.factory import given, line, order

_LISTS, _LONG = 10, 100
# Notes in ten lists of a hundred names, in tongues that mix names with accents and without, so
# that José and Jose stand in one list; measured with Faker 40, 0 to 13.
_MOST = 20


@pytest.mark.parametrize("locale", ["en_GB", "de_DE", "pl_PL", "no_NO", "es_ES", "pt_BR", "vi_VN"])
def test_few_lists_of_a_hundred_names_are_spoken_of(locale: str) -> None:
    faker = pytest.importorskip("faker", reason="names are drawn with Faker, which is not here")
    drawn = faker.Faker(locale)
    told = 0
    for seed in range(_LISTS):
        drawn.seed_instance(seed)
        names = [f"{drawn.first_name()} {drawn.last_name()}" for _ in range(_LONG + 1)]
        asked = replace(order(line(names[1:])), customer=Customer(name=names[0]))
        told += sum(f.status == "note" for f in run_check(CHECKS["words/names"], given(of=asked)))
    assert told <= _MOST
