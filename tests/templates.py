"""Templates compiled once for all tests of a process: every command compiles those it needs."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from jinja2 import Environment
from jinja2.bccache import Bucket, BytecodeCache

from proofgen.render.theme import Theme

_ENVIRONMENT = Theme._environment
_COMPILED: dict[tuple[str, ...], Bucket] = {}


class _Compiled(BytecodeCache):
    """What the compiler made of the same source, for a theme of the same language and currency:
    it works out what is constant (`85.6|number`), which they change; in a sandbox it makes another
    thing of it."""

    def __init__(self, *said: str) -> None:
        self._said = said

    def get_bucket(
        self, environment: Environment, name: str, filename: str | None, source: str
    ) -> Bucket:
        key = (*self._said, type(environment).__name__, name, filename or "", source)
        named = self.get_cache_key(name, filename or "")
        return _COMPILED.setdefault(key, Bucket(environment, named, ""))

    def set_bucket(self, bucket: Bucket) -> None:
        """It is kept as it is."""


def environment(theme: Theme, folders: Sequence[Path]) -> Environment:
    """A theme's own, which compiles nothing twice."""
    made = _ENVIRONMENT(theme, folders)
    made.bytecode_cache = _Compiled(theme.language, theme.currency, theme.tongue.digest)
    return made
