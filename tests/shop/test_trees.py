"""An order's text that was read before is not read again, and nothing else comes of it."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from proofgen.errors import ShopError
from proofgen.shop import trees
from proofgen.shop.nodes import Source, parse
from proofgen.shop.trees import Trees
from proofgen.store import Store
from proofgen.workshop import open_workshop
from tests.cli.small import make_shop, order_text, run, write

TEXTS = (
    "customer: {name: Ada}\nlines:\n  - design: tag\n    words: {a: 'x: y', 'b c': \"ü\"}",
    "a:\n- b\n- [c, {d: e}]\n\n-\n",
    "just words",
    "a: |\n  two\n  lines\nb: no\n",
    "",
)


@pytest.mark.parametrize("text", TEXTS)
def test_the_tree_of_a_known_text_is_the_same(text: str) -> None:
    first = Trees()
    expected = parse(text, Source("order.yaml"))
    assert first.read(text, Source("order.yaml")) == expected
    again = Trees(first.as_kept())
    assert again.read(text, Source("order.yaml")) == expected
    assert again.as_kept() is None


def test_known_texts_are_not_parsed(monkeypatch: pytest.MonkeyPatch) -> None:
    first = Trees()
    first.read(TEXTS[0], Source("order.yaml"))
    kept = first.as_kept()
    monkeypatch.setattr(trees, "parse", lambda *_: pytest.fail("parsed again"))
    assert Trees(kept).read(TEXTS[0], Source("order.yaml")) is not None


def test_a_fault_is_told_each_time() -> None:
    first = Trees()
    for _ in range(2):
        source = Source("order.yaml")
        first.read("a: 1\na: 2\n", source)
        assert len(source.faults) == 1
        with pytest.raises(ShopError, match="tab"):
            first.read("a:\t1\n", source)
    assert first.as_kept() is None


@pytest.mark.parametrize("kept", [b"", b"[]", b"{", b'{"x": 1}', b"\xff", b"3"])
def test_what_is_damaged_is_read_anew(kept: bytes) -> None:
    assert Trees(kept).read(TEXTS[3], Source("x")) == parse(TEXTS[3], Source("x"))
    key = hashlib.sha256(TEXTS[3].encode()).hexdigest()
    for damage in (b"1", b"[1]", b'[1, {"a": 2}]', b"[1, 2]"):
        damaged = Trees(b'{"%s": %s}' % (key.encode(), damage))
        assert damaged.read(TEXTS[3], Source("x")) == parse(TEXTS[3], Source("x"))


def test_the_trees_of_a_shop_go_with_what_it_forgets(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop")
    write(shop / "orders" / "fenn" / "order.yaml", order_text())
    write(shop / "orders" / "reed" / "order.yaml", order_text("Reed", customer="Ida Reed"))
    run(shop, "check")
    store = Store(shop / "workroom" / "store")
    assert b"Ida Reed" in (store.recall(trees.KIND, "") or b"")
    with open_workshop(shop) as workshop:
        assert workshop.trees.as_kept() is None, "all of it is known"
    run(shop, "forget", "reed", "--sure", "reed").ended(0)
    left = [path for path in (shop / "workroom").rglob("*") if path.is_file()]
    assert not [path for path in left if b"Ida Reed" in path.read_bytes()]
