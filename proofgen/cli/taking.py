"""The command that takes orders which come in by themselves."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from proofgen import intake
from proofgen.cli import printing, running
from proofgen.cli.commands import Take
from proofgen.cli.customers import sources
from proofgen.cli.spaces import in_one_word
from proofgen.errors import EXIT_DONE, EXIT_FINDING, ProofgenError, worst_exit
from proofgen.say import capital, joined, quoted_whole, visible


def take(given: Take) -> int:
    """Write a draft of an order for each slip and mail, or put photos or words to one."""
    if given.for_order:
        return _for_order(given, given.for_order)
    codes = [EXIT_DONE]
    with running.workshop_of(given, writes=True) as workshop:
        given_in = sources(given.source)
        for name, content in given_in:
            head = f"{visible(name)}: " if len(given_in) > 1 else ""
            codes += [_say(one, head) for one in intake.take(workshop, _bytes(content))]
    return worst_exit(*codes)


def _for_order(given: Take, order: str) -> int:
    codes = [EXIT_DONE]
    for source in in_one_word(given.source):
        place, sign, file = source.partition("=")
        if not sign or Path(source).exists():
            place, file = "", source
        words = () if place else _words(file)
        with running.workshop_of(given, writes=True) as workshop:
            if words:
                codes += [_say(intake.add_words(workshop, order, one), "") for one in words]
            else:
                taken = intake.add_photo(workshop, order, intake.photo_from(Path(file)), place)
                codes.append(_say(taken, ""))
    return worst_exit(*codes)


def _words(file: str) -> Sequence[intake.Arrived]:
    """The mails or texts in a file, or in what is pasted; none where it is a photo's."""
    if file != "-" and not Path(file).is_file():
        return ()
    return [one for _, content in sources([file]) for one in intake.words_in(_bytes(content))]


def _bytes(content: str | bytes) -> bytes:
    return content.encode() if isinstance(content, str) else content


def _say(one: intake.Taken | ProofgenError, head: str) -> int:
    if isinstance(one, ProofgenError):
        printing.aside(f"{head}{one.sentence()}")
        return one.exit_code
    if not one.is_new:
        new = "New are words beside it" if one.remarks else "Nothing new"
        printing.result(f"{head}{new}: this was taken before, for orders/{one.order}.")
        _say_words(one)
        return EXIT_DONE
    if not one.adds:
        printing.result(f"{head}A draft of the order is in orders/{one.order}.")
    for line in one.told:
        printing.result(f"    {capital(line)}.")
    if one.missing:
        printing.result(f"    Missing: {joined(one.missing)}.")
    _say_words(one)
    if one.kept_in:
        printing.result(f"    All of it, as it came: {one.kept_in}")
    printing.result(f"    Next: {one.step}")
    return EXIT_FINDING if one.asks else EXIT_DONE


def _say_words(one: intake.Taken) -> None:
    for words in one.remarks:
        printing.result(f"    The customer wrote: {quoted_whole(words)}")
