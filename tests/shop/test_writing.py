"""New orders and new shops: they read back as they were given, and appear whole or not at all."""

from __future__ import annotations

import re
import unicodedata
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from proofgen import store
from proofgen.errors import MachineError, ShopError, ShopFaults, UsageError
from proofgen.model import LAYER_KINDS, Customer, PhotoUse, Rights, Shop
from proofgen.say import file_name
from proofgen.shop import (
    LineDraft,
    OrderDraft,
    read_shop,
    start,
    write_order,
)
from proofgen.shop.nodes import MapNode, Source, TextNode, parse
from proofgen.shop.order_writer import free_name
from proofgen.shop.yaml_text import as_yaml
from tests.shop.conftest import MakeShop

letters = st.text(st.characters(exclude_categories=["Cs"]), max_size=60)


def draft(words: dict[str, str] | None = None, **line: object) -> OrderDraft:
    given = {"design": "harbour", "blank": "my-wrap", "cloth": "white", "quantity": 2, **line}
    return OrderDraft(
        customer=Customer(name="Zoë O’Neil", email="zoe@example.org", language="pt-BR"),
        due=date(2026, 12, 12),
        lines=(LineDraft(words=words or {}, **given),),  # type: ignore[arg-type]
    )


@given(letters)
def test_a_quoted_text_reads_back_and_hides_nothing(text: str) -> None:
    written = as_yaml(text)
    assert written.isprintable()
    node = parse(f"word: {written}\n", Source("x"))
    assert isinstance(node, MapNode)
    value = node.entries["word"].value
    assert isinstance(value, TextNode) and value.text == text
    # Another reader of YAML agrees.
    assert yaml.load(written, Loader=yaml.SafeLoader) == text


@given(name=letters, day=letters)
@settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_words_of_an_order_read_back(shop: Shop, name: str, day: str) -> None:
    path = write_order(shop, draft({"name": name, "date": day}))
    order = read_shop(shop.folder).orders[path.name]
    assert dict(order.lines[0].words) == {
        "name": unicodedata.normalize("NFC", name),
        "date": unicodedata.normalize("NFC", day),
    }


def test_an_order_is_written_whole(shop: Shop, tmp_path: Path) -> None:
    photo = tmp_path / "IMG 0001 (Zoë).JPG"
    photo.write_bytes(b"\xff\xd8 bytes")
    other = tmp_path / "elsewhere" / "img-0001-zoe.jpg"
    other.parent.mkdir()
    other.write_bytes(b"other")
    rows = tmp_path / "my guests.csv"
    rows.write_bytes(b"\xef\xbb\xbfname;date\r\nAda;NO\r\n")
    given = draft(
        {"name": "12:30"},
        photos={
            "photo": PhotoUse(
                file=photo, focus=(0.25, 1 / 3), zoom=1.5, turn=90, size_mm=(80.0, 60.5)
            )
        },
        list_file=rows,
        quantity=None,
    )
    again = LineDraft(
        design="harbour",
        blank="my-wrap",
        cloth="sky",
        quantity=1,
        photos={"photo": PhotoUse(file=other)},
    )
    third = LineDraft(
        design="harbour",
        blank="my-wrap",
        cloth="sky",
        quantity=1,
        photos={"photo": PhotoUse(file=photo)},
    )
    path = write_order(
        shop,
        OrderDraft(
            customer=given.customer,
            lines=(*given.lines, again, third),
            due=given.due,
            draft=True,
            rights=Rights(print=True, show=False),
        ),
    )
    assert path == shop.folder / "orders" / "zoe-oneil"
    assert {p.relative_to(path).as_posix() for p in path.rglob("*") if p.is_file()} == {
        "order.yaml",
        "guests.csv",
        "photos/img-0001-zoe.jpg",
        "photos/img-0001-zoe-2.jpg",
    }
    fresh = read_shop(shop.folder)
    assert fresh.faults == ()
    order = fresh.orders["zoe-oneil"]
    first, second, last = order.lines
    assert (order.due, order.draft) == (date(2026, 12, 12), True)
    assert order.rights == Rights(print=True, show=False)
    assert order.customer == Customer(name="Zoë O’Neil", email="zoe@example.org", language="pt-BR")
    assert first.photos["photo"].focus == (0.25, 0.3333)
    assert (first.photos["photo"].zoom, first.photos["photo"].turn) == (1.5, 90)
    assert first.photos["photo"].size_mm == (80, 60.5)
    assert first.photos["photo"].file.read_bytes() == b"\xff\xd8 bytes"
    assert second.photos["photo"].file.read_bytes() == b"other"
    assert last.photos["photo"].file == first.photos["photo"].file
    assert dict(first.pieces[0].words) == {"name": "Ada", "date": "NO"}
    assert not list((shop.folder / "orders").glob(".*"))


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ({"design": "harbor"}, "did you mean “harbour”?"),
        ({"blank": "my-wrp"}, "did you mean “my-wrap”?"),
        ({"cloth": "skye"}, "did you mean “sky”?"),
        ({"quantity": 0}, "at least 1"),
        ({"words": {"nam": "x"}}, "did you mean “name”?"),
        ({"words": {"name": "x" * 201}}, "200 is the most"),
    ],
)
def test_an_order_that_could_not_be_read_is_not_written(
    shop: Shop, line: dict[str, object], words: str
) -> None:
    before = sorted(shop.folder.rglob("*"))
    with pytest.raises(ShopFaults, match=re.escape(words)) as caught:
        write_order(shop, draft(**line))  # type: ignore[arg-type]
    assert caught.value.place is None
    assert sorted(shop.folder.rglob("*")) == before


@pytest.mark.parametrize("ending", [".HIF", ".jfif", ".mpo", ".jpeg"])
def test_a_photo_keeps_the_ending_its_camera_gave_it(
    shop: Shop, tmp_path: Path, ending: str
) -> None:
    photo = tmp_path / f"pier{ending}"
    photo.write_bytes(b"a picture")
    path = write_order(shop, draft(photos={"photo": PhotoUse(file=photo)}))
    assert (path / "photos" / f"pier{ending.lower()}").is_file()


def test_a_missing_photo_or_a_broken_letter_leaves_nothing_behind(
    shop: Shop, tmp_path: Path
) -> None:
    before = sorted(shop.folder.rglob("*"))
    with pytest.raises(UsageError, match=r"no file “gone\.jpg”"):
        write_order(shop, draft(photos={"photo": PhotoUse(file=tmp_path / "gone.jpg")}))
    with pytest.raises(ShopError, match="broken letter"):
        write_order(shop, draft({"name": "\ud83d"}))
    assert sorted(shop.folder.rglob("*")) == before


def test_a_failing_write_leaves_nothing_behind(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    before = sorted(shop.folder.rglob("*"))

    def full(*_: object, **__: object) -> bool:
        raise MachineError("the disk is full")

    monkeypatch.setattr(store, "write", full)
    with pytest.raises(MachineError):
        write_order(shop, draft())
    assert sorted(shop.folder.rglob("*")) == before


def test_a_killed_run_leaves_no_order_and_is_swept(shop: Shop) -> None:
    half = shop.folder / "orders" / ".part-0123456789ab"
    (half / "photos").mkdir(parents=True)
    (half / "order.yaml").write_text("customer:")
    assert set(read_shop(shop.folder).orders) == {"fenn"}
    assert store.sweep(shop.folder / "orders") == 1
    assert not half.exists()
    assert store.sweep(shop.folder / "orders") == 0


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Zoë O’Neil", "zoe-oneil"),
        ("../../etc/passwd", "etc-passwd"),
        ("Groß & Söhne", "gross-sohne"),
        ("محمد", "order"),
        ("CON", "order-con"),
        ("  ", "order"),
        ("x" * 99, "x" * 40),
        ("a\u202e\x00b", "a-b"),
    ],
)
def test_folder_names_are_of_our_own_making(text: str, name: str) -> None:
    assert file_name(text) == name


@given(st.text(max_size=80))
def test_a_slug_is_always_safe(text: str) -> None:
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", file_name(text))
    assert file_name(file_name(text)) == file_name(text)


def test_names_are_free_whatever_the_capitals(shop: Shop) -> None:
    assert free_name("fenn", ["Fenn", "FENN-2"]) == "fenn-3"
    (shop.folder / "records" / "Zoe-ONeil").mkdir(parents=True)  # an order that was taken away
    assert write_order(shop, draft()).name == "zoe-oneil-2"
    assert write_order(shop, draft()).name == "zoe-oneil-3"


# A new shop


@pytest.mark.parametrize("there", [True, False])
def test_a_new_shop_reads_without_a_fault(tmp_path: Path, there: bool) -> None:
    folder = tmp_path / "tern"
    if there:
        folder.mkdir()
    files = start(folder, 'Tern "Row": #1', "hello@ternrow.example", "slate", zone="Europe/Dublin")
    assert files == [
        folder / "shop.yaml",
        folder / "words" / "about.md",
        folder / "seasons" / "all-year.md",
        folder / "designs" / "first-design" / "design.md",
    ]
    assert sorted(p.name for p in folder.iterdir() if p.is_dir()) == [
        "blanks",
        "designs",
        "orders",
        "seasons",
        "words",
    ]
    shop = read_shop(folder)
    assert shop.faults == ()
    assert (shop.settings.name, shop.settings.theme) == ('Tern "Row": #1', "slate")
    assert shop.settings.zone == "Europe/Dublin"
    # Name and mail address stand in shop.yaml alone, so that no page keeps an old one.
    assert not re.search("Tern|hello@", shop.words["about"])
    assert [p.name for p in tmp_path.iterdir()] == ["tern"]


def test_a_new_shop_refuses_a_full_folder_and_bad_settings(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("x")
    with pytest.raises(UsageError, match="not empty"):
        start(tmp_path, "A", "a@b.example")
    with pytest.raises(UsageError, match="not a folder"):
        start(tmp_path / "mine.txt", "A", "a@b.example")
    with pytest.raises(UsageError, match="not a mail address"):
        start(tmp_path / "new", "A", "nobody")
    with pytest.raises(UsageError, match="currency"):
        start(tmp_path / "new", "A", "a@b.example", currency="SHELLS")
    assert [p.name for p in tmp_path.iterdir()] == ["mine.txt"]


def test_a_started_shop_has_a_design_to_order_from(tmp_path: Path) -> None:
    folder = tmp_path / "new"
    start(folder, "A", "a@b.example")
    shop = read_shop(folder)
    design = shop.designs["first-design"]
    assert (design.slots("photo"), design.slots("words")) == (("photo",), ("name",))
    assert set(design.offered) == {"can-wrap-linen", "coaster-round"}
    assert design.offered["can-wrap-linen"][1] == (6, Decimal("10.50"))
    words = {"name": "Zoë"}
    path = write_order(shop, draft(words, design="first-design", blank="can-wrap-linen"))
    shop = read_shop(folder)
    assert shop.faults == () and shop.orders[path.name].lines[0].words == words


def test_each_kind_of_layer_is_shown_in_the_first_design(tmp_path: Path) -> None:
    """The remarks name every layer there is, each as it is really written."""
    folder = tmp_path / "new"
    start(folder, "A", "a@b.example")
    file = folder / "designs" / "first-design" / "design.md"
    text = file.read_text("utf-8")
    kinds = {kind: re.search(rf"^#   ({kind}: .*?)( {{3,}}|$)", text, re.M) for kind in LAYER_KINDS}
    layers = "".join(
        f"    - {found[1].replace('…', '[10 %, 10 %, 80 %, 30 %]')}\n"
        for found in kinds.values()
        if found
    )
    assert layers.count("\n") == len(LAYER_KINDS)
    head, rest = text.split("  front:\n")
    photos = "  photos: {photo: sample.jpg}\n"
    sampled = rest[rest.index("\n\n") :].replace("sample:\n", f"sample:\n{photos}")
    file.write_text(f"{head}  front:\n{layers}{sampled}", "utf-8")
    for name in ("frame.png", "dots.png", "sample.jpg"):
        (file.parent / name).write_bytes(b"x")
    shop = read_shop(folder)
    assert shop.faults == ()
    assert [layer.kind for layer in shop.designs["first-design"].faces["front"]] == list(kinds)


def test_a_started_shop_takes_an_order(tmp_path: Path, make_shop: MakeShop) -> None:
    folder = tmp_path / "new"
    start(folder, "A", "a@b.example")
    design = make_shop() / "designs" / "harbour" / "design.md"
    target = folder / "designs" / "harbour" / "design.md"
    target.parent.mkdir()
    target.write_text(design.read_text("utf-8").replace("my-wrap", "can-wrap-linen"), "utf-8")
    path = write_order(read_shop(folder), draft(blank="can-wrap-linen"))
    shop = read_shop(folder)
    assert shop.faults == ()
    assert shop.orders[path.name].quantity == 2
