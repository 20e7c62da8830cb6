"""What commands refuse: what was typed in which shop, where the refusal is said, and what is typed
in the end where the cure leaves that to a person."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Refusal:
    """`shop` is the state of a shop as `states` makes it; `then` what a person types who did what
    the cure says, where it does not say it to the letter."""

    shop: str
    typed: str
    site: str
    then: str = ""


R = Refusal
TAG = "order --customer Bo --due 2026-12-20 --design tag --blank coaster-round"
WHITE = f"{TAG} --cloth white --quantity 2 --words name=Bo"
PLACE = "order --customer Bo --design place --blank coaster-round --cloth white"
SNAP = "order --customer Bo --design snap --blank coaster-round --cloth white"
ROUND = "measure --construction flat --shape round --diameter 90mm"
WRAP = "measure --construction wrap --vessel 66.1mm --height 100mm --thickness 3mm --closure 30mm"
FOLD = "measure --construction sewn --width 90mm --height 100mm --gap 4mm"

REFUSALS = (
    # blanks, swatches, trials
    R("plain", "blanks --count white=3", "cli/blanks:_count"),
    R("plain", "blanks coaster-round --count gren=3", "desk/stock:count_blanks"),
    R("plain", "blanks coaster-round --count white", "desk/stock:count_blanks"),
    R("plain", "blanks coaster-rond", "desk/looks:chosen_blank"),
    R("plain", "blanks zzzz", "desk/looks:chosen_blank", "blanks coaster-round"),
    R("plain", "swatches coaster-round a.pdf --readings b.csv", "cli/blanks:swatches"),
    R("plain", "swatches coaster-round --leave-out 3", "cli/blanks:swatches"),
    R("plain", "swatches coaster-round --readings read.csv", "desk/swatches:_colour_of"),
    R("plain", "swatches coaster-round --cloth wite", "desk/swatches:_colour_of"),
    R("plain", "swatches coaster-round --cloth zzz", "desk/swatches:_colour_of"),
    R("plain", "swatches coaster-round a.png", "desk/swatches:make_swatches"),
    R("plain", "truesize coaster-round a.png", "desk/truesize:make_true_size"),
    R(
        "plain",
        "trial coaster-round --heat 190C --time 50s",
        "desk/trials:_was_tried",
        "trial coaster-round --heat 385F --time 50s",
    ),
    R("plain", "trial coaster-round --heat 190", "desk/figures:figure", "trial coaster-round"),
    R(
        "plain",
        "swatches coaster-round --readings b.csv --cloth white",
        "desk/swatches:take_readings",
        "swatches coaster-round --readings read.csv --cloth white",
    ),
    # letters and answers
    R("plain", "change fenn fenn fenn", "pipeline/changing:change_word", "change fenn Odalys Bo"),
    R("plain", "change fenn zzz Bo", "pipeline/changing:_not_once", "change fenn Odalys Bo"),
    R(
        "plain",
        "change fenn Odalys Bo --piece 9",
        "pipeline/changing:_of_piece",
        "change fenn Odalys Bo",
    ),
    R(
        "proofed",
        "answer fenn --in-person Bo --on 2026-12-20",
        "pipeline/answers:answer_in_person",
        "answer fenn --in-person Bo --on 2026-11-25",
    ),
    R("plain", "letter fenn --ready", "pipeline/letters:ready_to_collect", "orders fenn"),
    R("plain", "letter fenn --photo", "pipeline/asking:photo_letter", "letter snap --photo"),
    R("plain", "answer fenn --read", "pipeline/answers:words_read", "orders fenn"),
    R("plain", "answer fenn --apply", "pipeline/answers:asked_changes", "orders fenn"),
    R("plain", "orders --cleared fenn", "pipeline/marking:mark_cleared", "orders fenn"),
    R("plain", "orders --take-down x", "pipeline/pages:take_down", "orders"),
    R("proofed", "letter", "cli/customers:letter"),
    R("pressed", "letter fenn --ready --sent", "cli/customers:letter"),
    R("plain", "letter fenn --all", "cli/customers:_reminders"),
    R("plain", "letter fenn", "pipeline/letters:letter"),
    R("plain", "answer nothing.eml", "cli/customers:sources", "answer fenn --in-person Bo"),
    R("plain", "forget fenn", "cli/customers:_be_sure"),
    R("plain", "forget nobody", "pipeline/forgetting:_refuse_unknown", "forget fenn --sure fenn"),
    R("proofed", "answer fenn --in-person ''", "signoff/answers:take_in_person"),
    # the shop's folder
    R("plain", "start new --words x", "cli/folders:start"),
    R("plain", "start new --name bo@x.example", "desk/beginning:_shop_name", "start new --name Bo"),
    R("plain", "start new --photo no.jpg", "desk/beginning:_photo"),
    R("plain", "start new --language xx", "desk/questions:for_later"),
    R("plain", "start new --contact x", "desk/questions:for_later"),
    R("plain", "start new --keep x", "desk/questions:for_later"),
    R("plain", "start new --site x", "desk/questions:for_later"),
    R("plain", "demo orders", "pipeline/demo_shop:copy_content"),
    R("plain", "backup workroom/x.zip", "desk/safekeeping:_refuse_place", "backup ../x.zip"),
    R("plain", "backup slip.txt", "desk/safekeeping:_refuse_place", "backup ../x.zip"),
    R("plain", "restore no.zip ../there", "desk/restoring:restore", "restore ../kept.zip ../there"),
    R(
        "plain",
        "restore slip.txt ../there",
        "desk/restoring:_no_backup",
        "restore ../kept.zip ../there",
    ),
    R("plain", "records verify --since x", "signoff/stand:since", "records verify"),
    # looking
    R("plain", "orders fenn --tally", "cli/looking:orders"),
    R("plain", "orders --since 2026-01-01", "cli/looking:orders"),
    R("plain", "orders --tally --since soon", "desk/days:read_day"),
    R("plain", "orders --cost fenn --tally", "cli/looking:_cost"),
    R("plain", "orders fen", "workshop:order"),
    R("plain", "orders nobody", "workshop:order", "orders fenn"),
    R("plain", "look nothing.jpg", "desk/looks:look", "look photo.jpg"),
    # checks and proofs
    R("small", "check fenn --accept letter-height", "cli/making:_accept"),
    R("small", "check --not-accept letter-height", "cli/making:_not_accept", "check fenn"),
    R("stopped", "check fenn --accept zzz --because y", "pipeline/preflight:accept"),
    R(
        "plain",
        "check fenn --page site/a.html",
        "pipeline/findings:write_page",
        "check fenn --page a.html",
    ),
    R("plain", "proof --again", "cli/making:proof"),
    R("stopped", "proof fenn", "pipeline/preflight:refuse_stops"),
    R("contactless", "proof fenn", "pipeline/proofs:_new_edition"),
    # the press
    R("signed", "press --plan --done", "cli/making:press"),
    R("pressed", "press --again", "cli/making:press"),
    R("pressed", "press fenn --because x", "cli/making:press"),
    R("pressed", "press fenn", "cli/making:_be_sure"),
    R("pressed", "press fenn --spoiled 1", "cli/making:_spoiled"),
    R("sheets", "press --done", "cli/making:_named"),
    R("plain", "press fenn", "signoff/door:_refused"),
    R("proofed", "press fenn", "signoff/door:_refused"),
    R("plain", "press fenn --done", "pipeline/marking:_note", "proof fenn"),
    R("signed", "press fenn --spoiled 1 --because y", "pipeline/spoiling:press_again"),
    R("pressed", "press fenn --spoiled x --because y", "pipeline/spoiling:read_numbers"),
    R(
        "pressed",
        "press fenn --spoiled , --because y",
        "pipeline/spoiling:read_numbers",
        "press fenn --spoiled 1,2 --because y",
    ),
    R(
        "pressed",
        "press fenn --spoiled 9 --because y",
        "pipeline/spoiling:press_again",
        "press fenn --spoiled 1 --because y",
    ),
    R("pressed", "press fenn --spoiled 1 --because y --times -3", "pipeline/spoiling:_count"),
    # to the web
    R("built", "publish --zip a.zip --done", "cli/uploading:publish"),
    R("built", "publish --over", "cli/uploading:publish"),
    R("built", "publish --done", "pipeline/uploads:done"),
    R("plain", "publish", "pipeline/uploads:prepared"),
    R("built", "publish --zip site/a.zip", "pipeline/upload_targets:packed", "publish --zip a.zip"),
    R(
        "built",
        "publish --into nowhere",
        "pipeline/upload_targets:_refuse_place",
        "publish --into ../elsewhere",
    ),
    R(
        "built",
        "publish --into orders",
        "pipeline/upload_targets:_refuse_place",
        "publish --into ../elsewhere",
    ),
    # what came
    R("plain", "take nothing.jpg", "cli/customers:sources", "take photo.jpg --for snap"),
    R("plain", "take photo.jpg", "intake/arrived:arrivals", "take photo.jpg --for snap"),
    R("plain", "take photo.jpg --for fenn", "intake/adding:_slot", "take photo.jpg --for snap"),
    R(
        "plain",
        "take pic=photo.jpg --for snap",
        "intake/adding:_slot",
        "take photo=photo.jpg --for snap",
    ),
    R("plain", "take ../kept.zip --for snap", "intake/adding:_put", "take photo.jpg --for snap"),
    R(
        "plain",
        "take nothing.jpg --for snap",
        "intake/adding:photo_from",
        "take photo.jpg --for snap",
    ),
    R("plain", "take slip.txt", "intake/taking:_take_letter", WHITE),
    # an order
    R("plain", "order --design tag --blank coaster-round --cloth white", "desk/ordering:_text"),
    R("plain", "order --customer Bo --design tag", "desk/choosing:one_of"),
    R(
        "plain",
        WHITE.replace("2026-12-20", "x"),
        "desk/questions:for_later",
    ),
    R(
        "plain",
        "order --customer Bo --design tga --blank coaster-round --cloth white --words name=Bo",
        "desk/choosing:one_of",
    ),
    R(
        "plain",
        "order --customer Bo --design tag --blank can-fold --cloth white --words name=Bo",
        "desk/choosing:one_of",
    ),
    R("plain", f"{TAG} --cloth gren --words name=Bo", "desk/choosing:one_of"),
    R("plain", f"{TAG} --cloth white --words name=Bo --quantity 0", "desk/ordering:_pieces"),
    R("plain", f"{TAG} --cloth white --words nam=Bo", "desk/ordering:_slots"),
    R("plain", f'{TAG} --cloth white --words "nam=Ola Berg"', "desk/ordering:_slots"),
    R("plain", f"{TAG} --cloth white", "desk/ordering:_text"),
    R("plain", f"{TAG} --cloth white", "desk/ordering:_words"),
    R("plain", PLACE, "desk/questions:tell"),
    R("plain", f"{SNAP}", "desk/questions:tell"),
    R("plain", f"{SNAP} --photo nothing.jpg", "desk/questions:tell", f"{SNAP} --photo photo.jpg"),
    R(
        "plain",
        f"{SNAP} --photo guests.csv",
        "desk/pictured:to_be_a_picture",
        f"{SNAP} --photo photo.jpg",
    ),
    R("plain", f"{SNAP} --photo pic=photo.jpg", "desk/ordering:_photo"),
    R("plain", f"{SNAP} --photo photo.jpg --size big", "desk/ordering:_width"),
    R("plain", f"{SNAP} --photo photo.jpg --words name=Bo", "desk/ordering:_slots"),
    R(
        "plain",
        f"{TAG} --cloth white --list nothing.csv",
        "desk/ordering:_line",
        f"{TAG} --cloth white --list guests.csv",
    ),
    R("plain", f"{TAG} --cloth white --list photo.jpg", "desk/ordering:_refuse_picture"),
    R("plain", f"{WHITE} --language xx", "desk/ordering:_language"),
    R("plain", f"{WHITE} --offer 5", "desk/choosing:blank_of"),
    R(
        "plain",
        "order --customer Bo --design tag --blank can-fold --cloth white --words name=Bo --offer x",
        "desk/choosing:_cost",
    ),
    R("plain", f"{WHITE} --price x", "desk/ordering:_new_order"),
    R("plain", f"{WHITE} --paid x", "desk/ordering:_new_order"),
    R("plain", f"{WHITE} --rights-print maybe", "desk/questions:yes_or_no"),
    R("plain", "check fenn --not-accept x", "pipeline/preflight:not_accept", "check fenn"),
    R(
        "plain",
        f"{PLACE} --words x --words couple=y --words day=z",
        "desk/ordering:_slots",
    ),
    # a blank
    R(
        "measured",
        "measure patch --construction flat --shape round --diameter 90mm",
        "desk/measuring:measure",
        "measure patch-2 --construction flat --shape round --diameter 90mm",
    ),
    R("plain", ROUND.replace("flat", "flt"), "desk/measuring:_choice"),
    R("plain", "measure --construction flat --shape round --diameter 90", "desk/measuring:_length"),
    R("plain", "measure --construction flat --shape round", "desk/measuring:_length"),
    R("plain", f"{ROUND} --seam 3mm", "desk/measuring:_answers", ROUND),
    R("plain", f"{ROUND} --colour green=zz", "desk/shades:read_shades"),
    R("plain", f"{ROUND} --heat 200C/500F", "desk/figures:figure", f"{ROUND} --heat 200C"),
    R("plain", f"{ROUND} --hole 45,12,5", "desk/punched:_hole"),
    R("plain", f"{ROUND} --sides 2", "desk/figures:figure_on"),
    R("plain", "backup", "cli/folders:_no_file"),
    R("plain", f"{ROUND} --time x", "desk/figures:figure"),
    R(
        "plain",
        f"{ROUND} --heat 200C --time 60s",
        "desk/figures:press_figures",
        f"{ROUND} --heat 200C --time 60s --from maker",
    ),
    R("plain", f"{ROUND} --name 66.1mm", "desk/naming:a_name", f"{ROUND} --name Mat"),
    R("plain", f"{ROUND} --finish x", "desk/measuring:_choice"),
    R("plain", f"{ROUND} --peel x", "desk/figures:figure"),
    R("plain", "measure coaster-round --construction fold", "desk/measuring:_measured", ROUND),
    R("plain", f"{ROUND} --safe 60mm", "desk/closing:blank_said", f"{ROUND} --safe 5mm"),
    R("plain", f"{WRAP} --length 300mm", "desk/closing:_judged", f"{WRAP} --length 240mm"),
    R("plain", f"{FOLD} --thickness x", "desk/measuring:_if_known"),
)

# Refusals that no row meets, by why: what a person or the world has to do is no thing to type.
NOT_TYPED = {
    "the customer is asked, or the mail is saved or sent again": (
        "intake/adding:_of_mail",
        "intake/adding:_refuse_promised",
        "intake/judging:_refuse_hidden",
        "intake/judging:_refuse_formulas",
        "intake/judging:_design",
        "intake/judging:_blank",
        "intake/judging:_cloth",
        "intake/judging:_many",
        "intake/judging:_refuse_strange_slots",
        "intake/taking:None",
        "intake/taking:_write",
        "intake/written:add_words",
    ),
    "records were altered or lost: a backup is put back": (
        "desk/safekeeping:backup",
        "desk/safekeeping:since_then",
        "pipeline/pages:mended",
        "press/job:raster",
        "press/run:_check_size",
        "signoff/door:_kept",
        "signoff/door:admit",
        "signoff/journal:sound",
        "signoff/keeping:_content",
        "signoff/keeping:payload",
    ),
    "the machine, its disk or another program is at fault": (
        "cli/runs:say_why",
        "desk/restoring:_opened",
        "desk/restoring:_refuse_large",
        "desk/safekeeping:_read_back",
        "pipeline/cluster:__init__",
        "pipeline/crew:executor_for",
        "pipeline/forgetting:_claim",
        "pipeline/forgetting:_refuse_links",
        "pipeline/upload_targets:_refuse_links",
        "workshop:printer",
    ),
    "something is measured, read or pressed again": (
        "desk/closing:_as_seen",
        "desk/looks:blank_problems",
        "desk/swatches:_believed",
        "desk/trials:_readings",
        "press/trial:shrink_from",
        "press/swatches:spots",
        "press/trial:grid_of",
    ),
    "said at a question, where the next answer is typed (tests/desk/test_questions.py)": (
        "desk/naming:called_by_customers",
        "desk/ordering:_count",
        "desk/ordering:_list",
        "desk/questions:_to_a_person",
    ),
    "a line of the shop’s files is written (tests/shop/test_cures_followed.py has such hands)": (
        "desk/choosing:can_be_chosen",
        "pipeline/rights:refuse_unshown",
        "pipeline/season_days:undecided",
        "pipeline/seasons:entry",
        "press/pieces:press_of",
        "press/planning:_must_fit",
        "press/planning:plan_sheets",
    ),
    "the same in fewer words is met by a row": (
        "pipeline/demo_shop:demo",
        "pipeline/letters:_no_way",
        "pipeline/letters:_written_to",
        "pipeline/admitted:job_of",
        "pipeline/proofs:_why_new",
        "press/run:lay",
        "signoff/editions:check_order_id",
        "signoff/records:_refuse_forgotten",
    ),
    "it serves until it is stopped (tests/cli/test_serving.py)": ("cli/folders:serve",),
    "it asks for --over, which replaces what a person looked at": (
        "pipeline/upload_targets:_refuse_strangers",
    ),
}
