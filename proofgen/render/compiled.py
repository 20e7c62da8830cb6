"""Templates as they were compiled before, kept where Python keeps its own compiled code: to compile
those of one page takes longer than to fill them.

Compiled code is run as it lies there. So it lies beside the program's, where only those can write
who can change the program, and never in a shop's folder, which may come from anybody; of a shop's
own templates nothing is kept.
"""

from __future__ import annotations

import functools
import hashlib
import sys
from contextlib import suppress
from pathlib import Path

import jinja2
from jinja2.bccache import Bucket, BytecodeCache

from proofgen import __version__
from proofgen.errors import MachineError
from proofgen.render import settled
from proofgen.render.shipped import beside_code, carried
from proofgen.store import write


@functools.cache
def _compiler() -> str:
    """What writes the code, which may change between two releases."""
    return hashlib.sha256(Path(settled.__file__).read_bytes()).hexdigest()


class Compiled(BytecodeCache):
    """`of` names all that a template is compiled for beside its own text: what it says that never
    changes is worked out while it is compiled, in one language."""

    def __init__(self, *of: str) -> None:
        program = (jinja2.__version__, __version__, _compiler(), sys.version)
        self._of = "\n".join((*of, *program))

    def get_cache_key(self, name: str, filename: str | None = None) -> str:
        ours = filename is not None and Path(filename).is_relative_to(carried("themes"))
        return super().get_cache_key(name, filename) if ours else ""

    def get_source_checksum(self, source: str) -> str:
        return hashlib.sha256(f"{self._of}\n{source}".encode()).hexdigest()

    def _file(self, bucket: Bucket) -> Path | None:
        """None where nothing is kept: of a shop's template, or where Python keeps none either."""
        if not bucket.key:
            return None
        folder = beside_code()
        if folder is None:
            return None
        own = hashlib.sha256(f"{bucket.key}\n{self._of}".encode()).hexdigest()
        return folder / f"template-{own[:24]}.{sys.implementation.cache_tag}"

    def load_bytecode(self, bucket: Bucket) -> None:
        path = self._file(bucket)
        # What is damaged is compiled again; what unpickling a digest can raise is anything.
        with suppress(Exception):
            if path is not None:
                bucket.bytecode_from_string(path.read_bytes())

    def dump_bytecode(self, bucket: Bucket) -> None:
        path = self._file(bucket)
        if path is None or sys.dont_write_bytecode:
            return
        with suppress(MachineError):  # a folder of the system's; then each run compiles
            write(path, bucket.bytecode_to_string())
