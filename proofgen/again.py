"""What a command said is said again while nothing it hangs on has changed.

The quick half, which reads the shop by its files' signatures alone: it imports next to nothing, for
it stands before everything else. `proofgen.pipeline.remembered` writes what is read here.
"""

from __future__ import annotations

import gc
import marshal
import os
import sys
import time
from binascii import crc32
from collections.abc import Iterable, Sequence

HOME = os.path.join("workroom", "store", "said")  # below the shop's folder
WORLD = "world"  # of it: every file and folder, and how it stood
_END = b"\0\0"
WINDOW_NS = 2_000_000_000  # changes within one tick of the coarsest clock of a file system (FAT)

Signature = tuple[int, int, int, int]  # mtime and ctime (ns), size (bytes), number of the file


def is_fresh(stood: Signature, now_ns: int) -> bool:
    """Whether it changed so lately that another change could leave the same signature. What the
    system noted counts, not a time that was set; Windows notes none."""
    changed = max(stood[:2]) if sys.platform == "win32" else stood[1]
    return changed > now_ns - WINDOW_NS


def key_of(arguments: Sequence[str]) -> bytes:
    """All that an answer hangs on beside files and day: what was typed, where, for whom, and which
    proofgen answers."""
    colour = bool(sys.stdout) and sys.stdout.isatty() and not os.environ.get("NO_COLOR")
    path = os.environ.get("PATH", "")
    parts = (__file__, sys.prefix, sys.version, os.getcwd(), path, str(colour), *arguments)
    return "\0".join(parts).encode("utf-8", "surrogatepass")


def file_of(key: bytes) -> str:
    """The name of the file that keeps an answer."""
    return f"{crc32(key):08x}{crc32(key[::-1]):08x}"


def content_of(path: bytes) -> bytes:
    """Digest of what a file holds, or a folder by its names."""
    import hashlib  # only where something is fresh

    if os.path.isdir(path):
        content = b"\0".join(sorted(os.listdir(path)))
    elif os.path.isfile(path):
        with open(path, "rb") as stream:
            content = stream.read()
    else:
        content = b""  # a pipe, say: reading it would wait for ever
    return hashlib.sha256(content).hexdigest().encode()


def sealed(content: bytes) -> bytes:
    return b"%08x" % crc32(content) + content


def opened(content: bytes) -> bytes:
    """What was sealed. ValueError where it is damaged."""
    if content[:8] != b"%08x" % crc32(content[8:]):
        raise ValueError("damaged")
    return content[8:]


def world_file(
    number: bytes,
    files: bytes,
    below: int,
    fresh: dict[int, bytes],
    names: Iterable[bytes],
    stood: Sequence[Signature],
) -> bytes:
    """The world as it is kept: its number, a digest of names and files, how many of the names are
    paths from the shop's folder (the others are whole), what is compared by content as well (place
    in the list, digest), the names, and how each stood."""
    head = b" ".join([number, files, b"%d" % below, *(b"%d:%s" % one for one in fresh.items())])
    return sealed(head) + b"\n" + b"\0".join(names) + _END + marshal.dumps(list(stood), 2)


def same_content(
    shop: str, fresh: Sequence[bytes], names: Sequence[bytes], below: int
) -> dict[int, bytes] | None:
    """What was fresh when the world was kept, by place, with its digest; None where one of it holds
    something else now."""
    base, held = os.fsencode(os.path.join(shop, "")), dict[int, bytes]()
    for one in fresh:
        at, digest = int(one.split(b":")[0]), one.split(b":")[1]
        if content_of(base + names[at] if at < below else names[at]) != digest:
            return None
        held[at] = digest
    return held


def answer_file(
    key: bytes, number: bytes, days: tuple[float, float], code: int, said: list[tuple[str, str]]
) -> bytes:
    """What a command said, as it is kept: the world it holds in, from when to when (s since 1970),
    its exit code, its key, and what it printed where ("stdout", "stderr")."""
    head = b"%s %r %r %d" % (number, *days, code)
    parts = [f"{stream} {text}".encode("utf-8", "surrogatepass") for stream, text in said]
    return sealed(_END.join([head, key.hex().encode(), *parts]))


def _stands(shop: str, number: bytes) -> bool:
    """Whether every file and folder is as it was in the world of this number."""
    path = os.path.join(shop, HOME, WORLD)
    with open(path, "rb") as stream:
        head, _, rest = stream.read().partition(b"\n")
    known, files, count, *fresh = opened(head).split(b" ")
    if known != number:
        return False
    listed, _, stood = rest.partition(_END)
    names, below, here = listed.split(b"\0"), int(count), os.getcwd()
    os.chdir(shop)  # short paths are looked up sooner, and of a large shop there are many
    gc.disable()  # it would go through all of them again and again
    try:
        now = [(s.st_mtime_ns, s.st_ctime_ns, s.st_size, s.st_ino) for s in map(os.stat, names)]
    finally:
        gc.enable()
        os.chdir(here)
    if marshal.dumps(now, 2) != stood:
        return False
    at_ns = time.time_ns()
    held = same_content(shop, fresh, names, below)
    if held is None:
        return False
    left = {at: digest for at, digest in held.items() if is_fresh(now[at], at_ns)}
    if len(left) < len(fresh):  # the next run need not read them again
        renew(path, world_file(number, files, below, left, names, now))
    return True


def renew(path: str, content: bytes) -> None:
    """A kept file, written anew if it can be."""
    from contextlib import suppress  # these take longer to load than all else here takes
    from pathlib import Path

    from proofgen.errors import MachineError
    from proofgen.store import write

    with suppress(MachineError):
        write(Path(path), content, private=True)


def _shop_of(arguments: Sequence[str]) -> str | None:
    """The shop's folder, as it was typed; None where only the whole parser can tell."""
    shop = "."
    for at, typed in enumerate(arguments):
        if typed == "--shop" and at + 1 < len(arguments):
            shop = arguments[at + 1]
        elif typed.startswith("--shop="):
            shop = typed[7:]
        elif typed.startswith("--s") and "--shop".startswith(typed.split("=")[0]):
            return None
    return shop


def say_again(arguments: Sequence[str]) -> int | None:
    """Print what this command said when all was as it is now, and give its exit code; None where
    that is not known. OSError where nobody can take what is printed."""
    shop = _shop_of(arguments)
    if shop is None:
        return None
    try:
        key = key_of(arguments)
        with open(os.path.join(shop, HOME, file_of(key)), "rb") as stream:
            head, *parts = opened(stream.read()).split(_END)
        number, since, until, code = head.split(b" ")
        if bytes.fromhex(parts[0].decode()) != key:
            return None
        if not float(since) <= time.time() < float(until):
            return None
        if not _stands(shop, number):
            return None
    except (OSError, ValueError, IndexError):
        return None
    for part in parts[1:]:
        where, _, text = part.partition(b" ")
        to = sys.stderr if where == b"stderr" else sys.stdout
        print(text.decode("utf-8", "surrogatepass"), file=to, flush=to is sys.stderr)
    if sys.stdout:  # None where it was closed
        sys.stdout.flush()
    return int(code)
