"""What a maker calls a finding."""

from __future__ import annotations

from dataclasses import replace

from proofgen.model import Finding
from proofgen.model.called import findings_called, short_names

BLUR = Finding(
    check="photo/blur", code="blurred", status="stop", says="This photo is blurred.",
    line=1, face="front", about="photo-3f2a1b",
)  # fmt: skip
SECOND = replace(BLUR, line=2)
OTHER_SLOT = replace(BLUR, about="second-9c0d2e")
SAME_SLOT = replace(BLUR, about="photo-9c0d2e")
DARK = replace(BLUR, check="photo/exposure", code="dark", says="This photo is dark.")
NOTE = replace(BLUR, status="note", code="soft", about="photo-77aa11")


def named(*findings: Finding) -> list[str]:
    names = short_names(findings)
    return [names[finding.key] for finding in findings if finding.key in names]


def test_a_name_is_as_short_as_the_others_let_it_be() -> None:
    assert named(BLUR, DARK, NOTE) == ["blur", "exposure"]
    assert named(BLUR, SECOND) == ["blur-line-1", "blur-line-2"]
    assert named(BLUR, OTHER_SLOT) == ["blur-photo", "blur-second"]
    assert named(BLUR, SAME_SLOT) == ["blur-photo-3f2a1b", "blur-photo-9c0d2e"]
    assert named(replace(BLUR, accepted="so wished"), SECOND) == ["blur"]


def test_a_name_holds_when_others_are_gone_and_never_means_another() -> None:
    assert findings_called("blur-line-2", [SECOND, DARK]) == [SECOND]
    assert findings_called("blur-line-1", [SECOND, DARK]) == []
    assert findings_called("blur", [BLUR, SECOND]) == [BLUR, SECOND]


def test_keys_words_and_what_is_said() -> None:
    every = [BLUR, SECOND, DARK, NOTE]
    assert findings_called(BLUR.key, every) == [BLUR]
    assert findings_called("photo/exposure", every) == [DARK]
    assert findings_called("Blur line 2", every) == [SECOND]
    assert findings_called("photo is dark", every) == [DARK]
    assert findings_called("dark", every) == []  # a word is said of too much
    assert findings_called(NOTE.key, every) == [NOTE]
