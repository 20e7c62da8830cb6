"""What pages have in common is worked out once, and is what each would have had by itself."""

from __future__ import annotations

from dataclasses import replace

from markupsafe import Markup

from proofgen.catalogue.shared import Occasion, Same, Setting
from proofgen.render import Theme
from tests.catalogue.season import QUAY, TILE, season


def test_the_same_is_said_once_and_nothing_else_is_taken_for_it() -> None:
    same, asked = Same(), []

    def told(*given: object) -> str:
        asked.append(given)
        return f"{given!r} {len(asked)}"

    text = "a" * 3
    assert same(told, text, (1.5, "b"), QUAY) == same(told, "aaa", (1.5, "b"), QUAY)
    assert len(asked) == 1, "texts and tuples by what they hold, a design as itself"
    same(told, Markup("aaa"), (1.5, "b"), QUAY)
    same(told, "aaa", (1.5, "b"), replace(QUAY))
    same(told, "aaa", (1.5, "b"), TILE)
    assert len(asked) == 4


def test_what_was_given_stays_so_that_no_other_has_its_number() -> None:
    same = Same()
    said = {same(lambda it: it.title, replace(QUAY, title=str(n))) for n in range(50)}
    assert len(said) == 50


def test_only_ways_in_the_head_are_told_apart() -> None:
    setting = Setting(season(), Theme("quay"))
    heres = {
        at: setting.shared("../", at)["here"] for at in ("words/care.html", "designs/tile.html")
    }
    assert heres == {"words/care.html": "words/care.html", "designs/tile.html": ""}
    assert setting.shared("")["root"] == "" and setting.shared("../")["root"] == "../"


def test_a_design_of_another_season_may_be_good_for_something_else() -> None:
    setting = Setting(season(), Theme("quay"))
    named = [
        one.name for one in setting.good_for(replace(QUAY, occasions=("wedding", "x", "gift")))
    ]
    assert named == ["gift", "wedding"]


def test_each_of_many_occasions_leads_to_all_the_others() -> None:
    words = ("birthday", "gift", "wedding", "<yard>")
    entries = tuple(replace(QUAY, id=f"d{n}", occasions=words[:n]) for n in range(1, 5))
    setting = Setting(replace(season(), entries=entries), Theme("quay"))
    asked = []

    def told(one: Occasion, root: str, last: bool) -> Markup:
        asked.append(one)
        return Markup("{}{} {},").format(root, one.name, last)

    for occasion in setting.occasions:
        others = [one for one in setting.occasions if one is not occasion]
        alone = "".join(str(told(one, "../", one is others[-1])) for one in others)
        assert setting.others(told, occasion, "../") == alone
    asked.clear()
    setting.others(told, setting.occasions[0], "../")
    assert len(asked) == 1, "the others were said before"


def test_a_plate_is_known_by_itself_and_shown_from_where_the_page_lies() -> None:
    setting = Setting(season(), Theme("quay"))
    near, far = setting.shared("")["seen"], setting.shared("../")["seen"]
    assert near(QUAY.plate) is near(QUAY.plate) and near(replace(QUAY.plate, alt="x")).alt == "x"
    assert far(QUAY.plate).src == f"../{near(QUAY.plate).src}"
    shown = {near(replace(QUAY.plate, alt=str(n))).alt for n in range(50)}
    assert len(shown) == 50, "none was taken for one that is gone"
