"""What is kept on the disk: the one writer of files, and results worked out before."""

from proofgen.store.files import (
    appearing,
    append_line,
    file_digest,
    lock,
    make_folder,
    remove,
    remove_folder,
    saved,
    sweep,
    write,
    write_folder,
)
from proofgen.store.results import Lazy, NoStore, Recent, Store, digest, dump_json, known_digest

__all__ = [
    "Lazy",
    "NoStore",
    "Recent",
    "Store",
    "appearing",
    "append_line",
    "digest",
    "dump_json",
    "file_digest",
    "known_digest",
    "lock",
    "make_folder",
    "remove",
    "remove_folder",
    "saved",
    "sweep",
    "write",
    "write_folder",
]
