"""What the runner makes of what checks say: order, pieces, keys, reasons, broken checks."""

from __future__ import annotations

import pytest

from proofgen import checks
from proofgen.checks.frame import Check, Remarks, check, note, skipped, stop
from proofgen.checks.listed import CHECKS
from proofgen.checks.runner import run_check, worst_first
from proofgen.checks.subjects import variants, whole_order
from proofgen.model import STATUSES, Acceptance, Finding, blocks
from tests.checks.factory import blank, facts, given, layout, line, order, photo, words

NAMES = ["Bo", "Maximiliane", "Di", "Kai", "Zoë"]


def one(look, over=variants, **codes) -> Check:
    """A check that is not in the list."""
    return Check(
        id="order/trying", title="All is well", why="a test", source="a test",
        codes={c.replace("_", "-"): m for c, m in codes.items()}, over=over, look=look,
    )  # fmt: skip


def listed(*faulty: int):
    laid = [layout(words(n, fits=i not in faulty)) for i, n in enumerate(NAMES, 1)]
    return given(*laid, of=order(line(NAMES)))


def test_a_whole_order_is_told_worst_first_and_once_per_check():
    found = checks.run(given(layout(photo(ppi=90.0), words(letter_mm=2.0))), {})
    ranks = [STATUSES.index(f.status) for f in found]
    assert ranks == sorted(ranks)
    assert found[0].check == "photo/effective-resolution" and found[0].status == "stop"
    assert {f.check for f in found} == set(CHECKS)
    assert not [f for f in found if f.status == "broken"]


def test_same_sentence_about_some_pieces_is_one_finding_with_their_numbers():
    def look(laid, _) -> Remarks:
        if set(laid.variant.pieces) & {1, 2, 3, 5}:
            yield note("odd", "This is odd.")

    (found,) = run_check(one(look, odd="odd"), listed())
    assert found.says == "Pieces 1 to 3 and 5: This is odd."
    assert found.pieces == (1, 2, 3, 5) and found.piece is None


def test_same_sentence_about_all_pieces_needs_no_numbers():
    def look(laid, _) -> Remarks:
        yield note("odd", "This is odd.")

    (found,) = run_check(one(look, odd="odd"), listed())
    assert found.says == "This is odd." and found.pieces == (1, 2, 3, 4, 5)


def test_a_fault_of_one_piece_names_it_and_points_into_the_list():
    (found,) = run_check(CHECKS["layout/words-fit"], listed(2))
    assert found.says.startswith("Piece 2: “Maximiliane”")
    assert found.piece == 2 and found.where == "orders/fenn/guests.csv:3, name"


def test_many_names_made_smaller_are_one_note_with_the_worst_measure():
    sizes = [9.0, 6.5, 7.0, 9.0, 8.0]
    laid = [layout(words(n, size_mm=s)) for n, s in zip(NAMES, sizes, strict=True)]
    (found,) = run_check(CHECKS["layout/words-fit"], given(*laid, of=order(line(NAMES))))
    assert found.says.startswith("Pieces 2, 3 and 5: “name” is set smaller")
    assert found.says.endswith(f"The smallest is “{NAMES[1]}”, 6.5 mm.")
    assert (found.measure, found.limit) == (6.5, 9.0)
    assert found.where == "orders/fenn/guests.csv:3, name and 2 more places"


def test_places_point_at_the_line_of_the_key():
    (found,) = run_check(CHECKS["photo/effective-resolution"], given(layout(photo(ppi=90.0))))
    assert found.where == "orders/fenn/order.yaml:9, photo"
    (found,) = run_check(CHECKS["layout/words-fit"], given(layout(words(fits=False))))
    assert found.where == "orders/fenn/order.yaml:10, name"
    (found,) = run_check(CHECKS["blank/heat"], given(on=blank(press=None)))
    assert found.where == "blanks/can-wrap.yaml:12"


def test_a_reason_lets_exactly_its_finding_through():
    faulty = listed(2, 4)
    first, second = blocks(run_check(CHECKS["layout/words-fit"], faulty))
    found = checks.run(faulty, {first.key: Acceptance("she wants it so")})
    accepted = [f for f in found if f.accepted]
    assert [f.key for f in accepted] == [first.key]
    assert second.key in [f.key for f in blocks(found)]
    stops = [f for f in found if f.status == "stop"]
    assert stops[-1] == accepted[0], "what was accepted comes after what stands"


def test_a_reason_does_not_outlive_the_thing_it_was_given_for():
    (before,) = run_check(CHECKS["layout/words-fit"], given(layout(words("Zoë", fits=False))))
    (after,) = run_check(CHECKS["layout/words-fit"], given(layout(words("Zoe", fits=False))))
    assert before.key != after.key
    coarse = given(layout(photo(ppi=90.0)))
    other = given(layout(photo(photo=facts(sha256="77aa00" + "0" * 58), ppi=90.0)))
    keys = {run_check(CHECKS["photo/effective-resolution"], g)[0].key for g in (coarse, other)}
    assert len(keys) == 2


def test_a_key_holds_still_when_the_place_in_the_file_moves():
    moved = order(line(lines={"photos.photo": 29}))
    keys = {
        run_check(CHECKS["photo/effective-resolution"], given(layout(photo(ppi=90.0)), of=o))[0].key
        for o in (order(), moved)
    }
    assert keys == {"photo/effective-resolution:too-coarse:1:round:photo-3f2a1b"}


def test_no_two_findings_share_a_key():
    twice = given(layout(words(letter_mm=2.0), words(letter_mm=1.9)))
    found = [f for f in checks.run(twice, {}) if f.status != "pass"]
    assert len({f.key for f in found}) == len(found)
    small = [f.key for f in found if f.check == "words/letter-height"]
    assert len(small) == 2


def test_a_check_that_fails_is_told_as_its_own_fault_and_the_rest_goes_on():
    def look(laid, _) -> Remarks:
        if laid.variant.pieces == (3,):
            raise KeyError("/home/maker/secret")
        yield note("odd", f"Seen {laid.variant.pieces[0]}.")

    found = run_check(one(look, odd="odd"), listed())
    assert [f.status for f in found] == ["broken"] + ["note"] * 4
    assert "order/trying" in found[0].says and "KeyError" in found[0].says
    assert "secret" not in found[0].says + found[0].cure, "an error's own text may name paths"
    assert blocks(found) == [found[0]], "what nobody looked at keeps the press shut"


def test_a_check_whose_subjects_fail_is_broken_too():
    def over(given):
        raise ValueError

    (found,) = run_check(one(lambda thing, _: iter(()), over=over, odd="odd"), given())
    assert found.status == "broken"


def test_the_same_failure_on_all_pieces_is_one_finding():
    def look(laid, _) -> Remarks:
        raise ZeroDivisionError
        yield

    (found,) = run_check(one(look, odd="odd"), listed())
    assert found.pieces == (1, 2, 3, 4, 5)


def test_an_undocumented_code_is_the_checks_fault():
    (found,) = run_check(
        one(lambda thing, _: iter([stop("new", "New.")]), whole_order, odd="o"), given()
    )
    assert found.status == "broken"


def test_a_check_that_only_skipped_does_not_pass():
    look = one(lambda thing, _: iter([skipped("odd", "No light.")]), whole_order, odd="o")
    assert [f.status for f in run_check(look, given())] == ["skipped"]


def test_pass_says_what_holds_and_nothing_to_look_at_is_told_apart():
    empty = one(lambda thing, _: iter(()), whole_order, odd="o")
    assert run_check(empty, given())[0].says == "All is well."
    (nothing,) = run_check(one(lambda thing, _: iter(()), variants, odd="o"), given())
    assert (nothing.status, nothing.code) == ("pass", "not-needed")


def test_findings_of_a_kind_go_by_line_and_piece():
    def finding(line_number, piece):
        return Finding(
            check="a/b", code="c", status="warn", says="x", line=line_number, piece=piece
        )

    mixed = [finding(2, 1), finding(1, 9), finding(1, None), finding(None, None)]
    assert [(f.line, f.piece) for f in worst_first(mixed)] == [
        (None, None), (1, None), (1, 9), (2, 1),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "name, codes, doc",
    [
        ("Order/due", {"odd": "odd"}, "Bad id."),
        ("order/new", {"Odd": "odd"}, "Bad code."),
        ("order/new", {"pass": "odd"}, "The runner's code."),
        ("order/new", {"odd": ""}, "A code unexplained."),
        ("order/new", {}, "No code."),
        ("order/new", {"odd": "odd"}, ""),
    ],
)
def test_a_badly_declared_check_is_refused(name, codes, doc):
    def look(laid, _) -> Remarks:
        yield note("odd", "Odd.")

    look.__doc__ = doc
    with pytest.raises(ValueError, match=r"check|code|say|letters"):
        check(name, whole_order, why="why", source="source", codes=codes)(look)
