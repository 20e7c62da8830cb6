"""The shop folder as a whole: worked values, and every fault of every file at once."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from proofgen.errors import EXIT_SHOP, Place, ShopFaults
from proofgen.model import Amount, Paper, Shop, Stock
from proofgen.shop import read_shop
from tests.shop.conftest import DESIGN, ORDER, SHOP, WRAP, MakeShop, the_fault, told


def test_settings_are_read_in_our_units(shop: Shop) -> None:
    s = shop.settings
    assert shop.faults == ()
    assert (s.name, s.contact, s.site) == (
        "Tern Row Press Room",
        "hello@ternrow.example",
        "https://ternrow.example",
    )
    # ISO 216: A4 is 210 x 297 mm, A3 297 x 420 mm.
    assert s.papers == (
        Paper(name="A4", width_mm=210, height_mm=297),
        Paper(name="A3", width_mm=297, height_mm=420),
    )
    assert s.printer.scale == (1.0, 0.995)
    assert s.platen_mm == (380.0, 381.0)  # 15 in x 25.4
    assert s.minute_rate == Decimal("0.40")
    assert s.sheet_rates == {"A4": Decimal("0.18"), "A3": Decimal("0.36")}
    assert (s.answer_days, s.lead_days, s.spares) == (5, 10, 0.05)
    assert (s.today, s.demo, s.theme) == (None, False, "quay")


def test_a_blank_is_read_raw_and_worked_out_finished(shop: Shop) -> None:
    blank = shop.blanks["my-wrap"]
    assert (blank.width_mm, blank.height_mm, blank.shrink) == (240.0, 100.0, (0.01, 0.005))
    assert blank.press is not None
    assert blank.press.heat_c == pytest.approx(204.444, abs=1e-3)  # 400 F
    assert blank.press.heat_f_written == 400
    assert blank.cloth.colours == {"white": "#ffffff", "sky": "#6fb7e9"}
    assert (blank.cost, blank.stock) == (Decimal("1.10"), Stock(pieces={"white": 24}))
    assert (blank.lines["press"], blank.lines["press.heat"], blank.lines["length"]) == (18, 18, 4)
    assert blank.place_of("press.time") == Place("blanks/my-wrap.yaml", 18)
    assert not blank.built_in
    # 240 x 0.99 - pi x 69.1
    assert blank.plan().overlap == pytest.approx(20.516, abs=1e-3)


def test_a_design_keeps_layers_in_order_with_their_lines(shop: Shop) -> None:
    design = shop.designs["harbour"]
    colour, photo, name, day = design.faces["round"]
    assert (colour.kind, colour.colour, colour.at) == ("colour", "#ffffff", None)
    assert (photo.kind, photo.slot, photo.at) == ("photo", "photo", None)
    assert name.at is not None and name.at.left == Amount(0.1, True)
    assert (name.font, name.size_mm, name.colour, name.align) == (
        "Caladea",
        9.0,
        "#112233",
        "centre",
    )
    assert day.at is not None and day.at.top == Amount(25.4, False)
    assert day.align == "left"
    assert [layer.place.line for layer in design.faces["round"]] == [7, 8, 9, 10]
    assert design.lines["offered.can-fold"] == 4
    assert design.price("can-fold", 9) == Decimal("12.00")
    assert design.price("can-fold", 10) == Decimal("10.50")
    assert design.price("my-wrap", 1) == Decimal("14.50")
    assert design.text == "A *quiet* harbour."


def test_an_order_is_read_with_its_pieces(shop: Shop) -> None:
    order = shop.orders["fenn"]
    (line,) = order.lines
    assert order.due == date(2026, 12, 12)
    assert (order.customer.name, order.customer.language) == ("Odalys Fenn", "en")
    assert line.photos["photo"].focus == (0.5, 0.4)
    assert line.photos["photo"].zoom == 1.2
    assert line.photos["photo"].place == Place("orders/fenn/order.yaml", 8)
    assert [p.number for p in line.pieces] == [1, 2, 3]
    assert {p.words["name"] for p in line.pieces} == {"Odalys & Bram"}
    assert (line.lines["words.name"], line.lines["photos.photo"]) == (9, 8)
    assert line.place_of("cloth") == Place("orders/fenn/order.yaml", 6)
    assert (order.keys["due"], order.keys["customer.email"]) == (2, 1)
    assert not order.draft


def test_seasons_and_house_texts(shop: Shop) -> None:
    (season,) = shop.seasons
    assert (season.id, season.title, season.designs) == ("winter", "Winter", ("harbour",))
    assert (season.sentence, season.text) == ("For cold hands.", "Hello.")
    assert shop.words == {"about": "# About\n"}


def test_a_folder_without_shop_yaml_says_how_to_make_one(make_shop: MakeShop) -> None:
    with pytest.raises(ShopFaults, match="this folder is not a shop") as caught:
        read_shop(make_shop({"shop.yaml": None}))
    assert "proofgen start my-shop" in caught.value.sentence()
    assert caught.value.exit_code == EXIT_SHOP


def test_an_unreadable_shop_yaml_tells_the_faults_of_all_files(make_shop: MakeShop) -> None:
    folder = make_shop(
        {"shop.yaml": "name: [unclosed\n", "blanks/my-wrap.yaml": WRAP.replace("6 mm", "6", 1)}
    )
    with pytest.raises(ShopFaults) as caught:
        read_shop(folder)
    places = [str(f.place) for f in caught.value.faults]
    assert places[0].startswith("shop.yaml:")
    assert "blanks/my-wrap.yaml:8" in places


def test_all_faults_of_all_files_at_once(make_shop: MakeShop) -> None:
    shop = read_shop(
        make_shop(
            {
                "shop.yaml": SHOP.replace("cover: 10 mm", "covr: 10 mm").replace("EUR", "EURO"),
                "blanks/other.yaml": WRAP.replace("100 mm", "100").replace("3 mm", "-3 mm"),
                "designs/second/design.md": DESIGN.replace("title:", "tilte:"),
                "orders/lark/order.yaml": ORDER.replace("white", "whyte").replace("3", "none", 1),
                "orders/lark/photos/pier.jpg": b"x",
                "seasons/spring.md": "title: no front\n",
            }
        )
    )
    assert [(f, n) for f, n, _ in told(shop)] == [
        ("shop.yaml", 5),
        ("shop.yaml", 10),
        ("blanks/other.yaml", 5),
        ("blanks/other.yaml", 6),
        ("designs/second/design.md", 2),
        ("designs/second/design.md", 2),
        ("orders/lark/order.yaml", 6),
        ("orders/lark/order.yaml", 7),
        ("seasons/spring.md", 1),
    ]
    # What has no fault stays usable.
    assert set(shop.orders) == {"fenn"}
    assert set(shop.designs) == {"harbour"}
    assert "other" not in shop.blanks
    assert shop.settings.cover_mm == 10.0
    assert len(shop.seasons) == 1


def test_a_broken_design_keeps_its_orders_back_and_says_so(make_shop: MakeShop) -> None:
    shop = read_shop(
        make_shop({"designs/harbour/design.md": DESIGN.replace("title: Harbour photo\n", "")})
    )
    assert [(f, n) for f, n, _ in told(shop)] == [
        ("designs/harbour/design.md", 2),
        ("orders/fenn/order.yaml", 4),
    ]
    assert "lacks title" in shop.faults[0].problem
    assert "mend the design first" in shop.faults[1].cure
    assert shop.orders == {} and shop.seasons[0].designs == ()


def test_a_broken_blank_is_told_once_for_each_order(make_shop: MakeShop) -> None:
    shop = read_shop(
        make_shop({"blanks/my-wrap.yaml": WRAP.replace("height: 100 mm", "height: 0 mm")})
    )
    assert [(f, n) for f, n, _ in told(shop)] == [
        ("blanks/my-wrap.yaml", 5),
        ("orders/fenn/order.yaml", 5),
    ]
    assert set(shop.designs["harbour"].offered) == {"can-fold"}


def test_a_users_blank_wins_over_the_built_in_one(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({"blanks/can-wrap-foam.yaml": WRAP}))
    assert shop.blanks["can-wrap-foam"].cloth.finish == "linen-look"
    assert not shop.blanks["can-wrap-foam"].built_in
    assert shop.blanks["can-wrap-linen"].built_in


def test_a_users_broken_blank_hides_the_built_in_one(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({"blanks/can-wrap-foam.yaml": "name: x\n"}))
    assert "can-wrap-foam" not in shop.blanks
    assert len(shop.faults) == 1


@pytest.mark.parametrize(
    ("file", "line", "words"),
    [
        ("blanks/other.yml", None, ["rename it to other.yaml"]),
        ("designs/empty/note.txt", None, []),
        ("designs/empty/desing.md", None, ["rename desing.md to design.md"]),
        ("orders/Zoë/order.yaml", None, ["rename it to zoe"]),
        ("orders/con/order.yaml", None, ["rename it to order-con"]),
    ],
)
def test_names_and_places_of_files(
    make_shop: MakeShop, file: str, line: int | None, words: list[str]
) -> None:
    text = ORDER.replace("photos: ", "# photos: ")
    shop = read_shop(make_shop({file: text}))
    if file.startswith("designs"):
        the_fault(shop, "designs/empty/design.md", None, "missing", *words)
    else:
        the_fault(shop, file, line, *words)


def test_two_names_that_differ_only_in_capitals(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({"orders/Fenn/order.yaml": ORDER.replace("photos: ", "# photos: ")}))
    if len({*shop.orders}) == 2:
        pytest.fail("both were taken")
    the_fault(shop, "orders/fenn/order.yaml", None, "differ only in capitals")


def test_hidden_files_are_left_alone(make_shop: MakeShop) -> None:
    shop = read_shop(
        make_shop(
            {
                "orders/.part-12ab/order.yaml": "rubbish: [",
                "blanks/.DS_Store.yaml": "x",
                "orders/readme.md": "",
            }
        )
    )
    assert shop.faults == ()


def test_an_unknown_design_of_a_season_at_its_own_line(make_shop: MakeShop) -> None:
    text = "---\ntitle: Winter\ndesigns:\n  - harbour\n  - harbor\n---\n"
    shop = read_shop(make_shop({"seasons/winter.md": text}))
    the_fault(shop, "seasons/winter.md", 5, "did you mean “harbour”?")
    assert shop.seasons == ()
