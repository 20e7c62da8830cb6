"""Every fault of the shop's files, mended as its cure says: a hand that knows nothing but the
sentence changes the file, and the same fault is not there any more."""

from __future__ import annotations

import re

import pytest

from proofgen.errors import Place, ShopError
from proofgen.shop import read_shop
from tests.shop.conftest import DESIGN, ORDER, SHOP, WRAP, MakeShop
from tests.shop.test_read_blanks import WRONG_WRAPS
from tests.shop.test_read_designs import WRONG_DESIGNS
from tests.shop.test_read_orders import WRONG_ORDERS
from tests.shop.test_read_settings import WRONG_SETTINGS

_FAMILIES = (
    ("orders/fenn/order.yaml", ORDER, WRONG_ORDERS),
    ("designs/harbour/design.md", DESIGN, WRONG_DESIGNS),
    ("shop.yaml", SHOP, WRONG_SETTINGS),
    ("blanks/odd.yaml", WRAP, WRONG_WRAPS),
)
CASES = [
    pytest.param(file, text, old, new, id=f"{file.split('/')[0]}: {new[:40]}")
    for file, text, wrong in _FAMILIES
    for old, new, *_ in wrong
]

# What of a cure can be typed as it stands, for the value that is wrong.
_VALUES = (
    r"did you mean “([^”]+)”\?",
    r"did you mean ([^?]+)\?",
    r"(?i)write (?:at least|at most) ([^;,]+)$",
    r"write \S+ \S+ to ([0-9.]+ \S+)",
    r"write it like (\"[^\"]+\"|(?!\w+: …).+?)(?:, .+| or .+| both)?$",
    r"(?i)write one of: ([^,;]+)",
    r"from the top: (\[.+?\])",
    r"write by how many degrees .+: (90)",
    r"write its code, like (EUR)",
    r"write (yes) or no",
)
_WHOLE = (
    r"write (\w+): (\[.+?\])",
    r"write fill, or .+(): (\[.+?\])",
    r"write it like (\w+): (\{.+\})",
    r"write (size): (80 mm)",
)
_DELETES = re.compile(r"take (?:it|the line) out")
# What a cure leaves to the maker, who knows it: the line that was right is put back.
_MAKERS_OWN = re.compile(
    r"^add a line (\w+): …$|^add one, like |^shorten it$|^keep |^put (?:it|the file) |^Known: "
    r"|^write more than 0 |^make (\w+) the smaller|^write (?:a price|a value|it$|the least|how far)"
    r"|^write it like (\w+): …$|^write each below it|^write one of: colour|^use letters"
    r"|^measure (?:the|that) |^take it out$"
)
# A value, in quotes or brackets or bare, up to where the next begins.
_VALUE = r"(?:\"[^\"]*\"|'[^']*'|\[(?:[^\[\]]|\[[^\]]*\])*\]|\{[^}]*\}|[^,}\n]+)"


def _followed(text: str, fault: ShopError) -> str | None:
    """The file with the fault's line changed as the cure says, by a hand that knows the sentence
    alone; None where there is nothing to type."""
    assert isinstance(fault.place, Place)
    number = (fault.place.line or 1) - 1
    lines = text.splitlines()
    line = lines[number]
    quoted = re.findall(r"“([^”]+)”", fault.problem)
    said = re.search(r"say (\w+): instead", fault.cure)
    none = re.search(r"has no (\w+)", fault.problem)
    label = re.match(r"[\w.]*?(\w+)[: ]", fault.problem)
    if said and none:
        line = line.replace(f"{none[1]}:", f"{said[1]}:", 1)
    elif whole := next((m for p in _WHOLE if (m := re.search(p, fault.cure))), None):
        key = whole[1] or (label[1] if label else "")
        line = re.sub(rf"\b{key}: ?{_VALUE}", f"{key}: {whole[2]}", line, count=1)
    elif value := next((m[1] for p in _VALUES if (m := re.search(p, fault.cure))), None):
        for wrong in quoted:
            if re.search(_token(wrong), line):
                line = re.sub(_token(wrong), value.replace("\\", ""), line, count=1)
                break
        else:
            if label:
                line = re.sub(rf"\b{label[1]}: ?{_VALUE}", f"{label[1]}: {value}", line, count=1)
    elif _DELETES.search(fault.cure):
        for wrong in quoted:
            line = re.sub(rf",? ?\b{re.escape(wrong)}: ?{_VALUE}", "", line, count=1)
    lines[number] = line
    changed = "\n".join(lines) + "\n"
    return changed if changed != text else None


def _token(wrong: str) -> str:
    """The words alone or in quotes, not as a part of others."""
    plain = re.escape(wrong)
    return rf"\"{plain}\"|(?<![\w.-]){plain}(?![\w.])"


def _faults(make_shop: MakeShop, file: str, text: str) -> list[ShopError]:
    shop = read_shop(make_shop({file: text}))
    return [f for f in shop.faults if isinstance(f.place, Place) and f.place.file == file]


@pytest.mark.parametrize(("file", "text", "old", "new"), CASES)
def test_a_cure_that_can_be_typed_mends_its_fault(
    make_shop: MakeShop, file: str, text: str, old: str, new: str
) -> None:
    wrong = text.replace(old, new)
    fault = _faults(make_shop, file, wrong)[0]
    assert fault.cure.strip(), fault.problem
    mended = _followed(wrong, fault)
    if mended is None:  # it says where, and what is missing; that alone the maker fills in
        assert _MAKERS_OWN.search(fault.cure), fault.sentence()
        mended = text
    left = [f.sentence() for f in _faults(make_shop, file, mended)]
    assert fault.sentence() not in left, mended
    assert len(left) < len(_faults(make_shop, file, wrong)), left
