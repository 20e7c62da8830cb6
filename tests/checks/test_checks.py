"""Every check against its table; no check and no code without a row."""

from __future__ import annotations

import re
import sys
from collections import Counter

import pytest

from proofgen.checks.listed import CHECKS
from proofgen.checks.runner import run_check
from proofgen.photo import faces
from tests.checks import (
    cases_blank,
    cases_layout,
    cases_order,
    cases_ordered,
    cases_photo,
    cases_pixels,
    cases_words,
    cases_writing,
)

CASES = [
    *cases_photo.CASES,
    *cases_pixels.CASES,
    *cases_layout.CASES,
    *cases_words.CASES,
    *cases_writing.CASES,
    *cases_blank.CASES,
    *cases_order.CASES,
    *cases_ordered.CASES,
]


@pytest.fixture(autouse=True)
def machine(request, monkeypatch):
    """The machine of a row: it may lack a library."""
    case = request.node.callspec.params.get("case")
    if case is not None and case.without:
        monkeypatch.setitem(sys.modules, case.without, None)
        faces._network.cache_clear()
        yield
        faces._network.cache_clear()
    else:
        yield


@pytest.mark.parametrize("case", CASES, ids=str)
def test_check_says_what_its_table_wants(case):
    found = run_check(CHECKS[case.check], case.given)
    assert Counter((f.status, f.code) for f in found) == Counter(case.wants), found
    told = "\n".join(f"{f.says}\n{f.cure}" for f in found)
    for part in case.says:
        assert part in told


@pytest.mark.parametrize("name", CHECKS)
def test_every_check_passes_somewhere_and_gives_each_of_its_codes(name):
    rows = [case for case in CASES if case.check == name]
    codes = {code for case in rows for _, code in case.wants}
    assert set(CHECKS[name].codes) == codes - {"pass", "not-needed"}
    assert "pass" in codes


@pytest.mark.parametrize("case", CASES, ids=str)
def test_sentences_are_fit_for_a_customer(case):
    for finding in run_check(CHECKS[case.check], case.given):
        for text in (finding.says, finding.cure):
            assert "!" not in text and "\n" not in text
            assert '"' not in text or re.search(r"proofgen (change|check)", text)  # as it is typed
            assert not text or text[0] not in " abcdefghijklmnopqrstuvwxyz" or ":" in text
            assert "None" not in text and "nan" not in text.split()
        assert finding.says.endswith((".", "?")), finding.says
