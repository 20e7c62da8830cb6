"""What a season shows of a design without a photo of its own, and cloths in a customer's words."""

from __future__ import annotations

from tests.cli.small import SEASON, make_shop, order_text, page, run, write


def test_a_design_that_would_be_shown_as_bare_cloth_is_named(tmp_path) -> None:
    shop = make_shop(tmp_path / "shop", season=True)
    assert "sample photo" not in run(shop, "catalogue").out
    write(shop / "seasons" / "winter.md", SEASON.replace("[tag]", "[tag, snap]"))
    told = run(shop, "catalogue").out
    assert "snap has no sample photo" in told and "designs/snap/design.md" in told
    assert "tag has no" not in told
    assert "sample photo" not in run(shop, "check").ended(0).out  # it is no matter of an order


def test_a_proof_names_the_cloth_in_its_customers_language(tmp_path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn")
    text = order_text().replace("email: someone", "language: de, email: someone")
    write(shop / "orders" / "fenn" / "order.yaml", text)
    run(shop, "proof", "fenn").ended(0)
    assert ", Weiß" in page(shop, "fenn") and ", white" not in page(shop, "fenn")
