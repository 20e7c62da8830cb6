"""What the small process that opens strangers' pictures gives up before it sees the first of them.

Everything it needs is loaded by then, so that it may open no file at all, nor anything else. Each
bar is put up where the system has it; which ones hold, is told.

Linux alone is tried here: Landlock from 5.13 on, seccomp on 64-bit Intel and AMD. Elsewhere the
limits hold that Python's `resource` can set; Windows has none of these.
"""

from __future__ import annotations

import contextlib
import ctypes
import platform
import struct
import sys

from proofgen.photo.exchange import Bar

try:
    import resource
except ImportError:  # Windows
    resource = None  # type: ignore[assignment]

_ADDRESSES = 4 << 30  # bytes of address space: what we price at most, with room for threads

# linux/prctl.h
_SET_SECCOMP, _SET_NO_NEW_PRIVS, _FILTER = 22, 38, 2
# linux/landlock.h; these two calls have the same numbers on every processor.
_CREATE_RULESET, _RESTRICT_SELF, _VERSION = 444, 446, 1
# Rights on files that the versions of Landlock know, and from which on they know the network and
# other processes. What is handled and allowed nowhere is forbidden.
_FILE_RIGHTS = {1: 13, 2: 14, 3: 15, 4: 15, 5: 16}
_NETWORK_FROM, _OTHERS_FROM = 4, 6
_NETWORK_RIGHTS, _OTHERS = 0b11, 0b11

# asm/unistd_64.h: what computing, memory and threads ask for. None of it opens, reaches or starts
# anything; reading and writing go through the two pipes that are open.
_ALLOWED = {
    "read": 0, "write": 1, "close": 3, "fstat": 5, "lseek": 8, "mmap": 9, "mprotect": 10,
    "munmap": 11, "brk": 12, "rt_sigaction": 13, "rt_sigprocmask": 14, "rt_sigreturn": 15,
    "readv": 19, "writev": 20, "sched_yield": 24, "mremap": 25, "madvise": 28, "nanosleep": 35,
    "getpid": 39, "exit": 60, "uname": 63, "gettimeofday": 96, "getrlimit": 97, "getrusage": 98,
    "sysinfo": 99, "times": 100, "sigaltstack": 131, "sched_getparam": 143,
    "sched_getscheduler": 145, "gettid": 186, "time": 201, "futex": 202, "sched_getaffinity": 204,
    "restart_syscall": 219, "clock_gettime": 228, "clock_getres": 229, "clock_nanosleep": 230,
    "exit_group": 231, "set_robust_list": 273, "getcpu": 309, "getrandom": 318, "membarrier": 324,
    "rseq": 334,
}  # fmt: skip
_CLONE, _A_THREAD = 56, 0x10000  # linux/sched.h: CLONE_THREAD
_LIMIT = 302  # prlimit64, of this process alone
_X86_64 = 0xC000003E  # linux/audit.h
_OTHER_NUMBERS = 0x40000000  # of the same processor's second set of calls (x32)
# EPERM, which Python takes for a folder that it may not look into; and, for calls newer than 2019
# (Linux 5.1), ENOSYS, since libraries know what to do where a system does not have these yet.
_NEW, _FORBIDDEN, _ABSENT = 424, 1, 38
# linux/bpf_common.h, linux/seccomp.h
_LOAD, _EQUAL, _AT_LEAST, _SET, _RETURN = 0x20, 0x15, 0x35, 0x45, 0x06
_ALLOW, _REFUSE = 0x7FFF0000, 0x00050000
_NUMBER, _PROCESSOR, _FIRST = 0, 4, 16  # bytes into struct seccomp_data


def confine() -> list[Bar]:
    """Put up every bar this system has, for good; those that hold."""
    held: list[Bar] = []
    linux = sys.platform == "linux"
    library = ctypes.CDLL(None, use_errno=True) if linux else None
    if library and library.prctl(_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0:
        held.append("privileges")
        if _no_files(library):
            held.append("landlock")
    held += _limits()
    if library and "privileges" in held and _few_calls(library):
        held.append("seccomp")
    return held


def _limits() -> list[Bar]:
    """No further descriptor, no byte into a file, no dump of memory, an end to memory; each for
    good. macOS refuses some of them, hence one by one."""
    if resource is None:
        return []
    wishes: dict[Bar, tuple[int, int]] = {
        "memory": (resource.RLIMIT_AS, _ADDRESSES),
        "dumps": (resource.RLIMIT_CORE, 0),
        "writing": (resource.RLIMIT_FSIZE, 0),
        "descriptors": (resource.RLIMIT_NOFILE, 0),  # last: it takes the way to the others
    }
    held: list[Bar] = []
    for bar, (what, most) in wishes.items():
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(what, (most, most))
            held.append(bar)
    return held


def _no_files(library: ctypes.CDLL) -> bool:
    """Landlock without a single exception. Documentation/userspace-api/landlock.rst"""
    version = library.syscall(_CREATE_RULESET, None, 0, _VERSION)
    if version < 1:
        return False
    files = (1 << _FILE_RIGHTS[min(version, max(_FILE_RIGHTS))]) - 1
    rights = struct.pack(
        "=QQQ",
        files,
        _NETWORK_RIGHTS if version >= _NETWORK_FROM else 0,
        _OTHERS if version >= _OTHERS_FROM else 0,
    )
    size = 24 if version >= _OTHERS_FROM else 16 if version >= _NETWORK_FROM else 8
    rules = library.syscall(_CREATE_RULESET, rights, ctypes.c_size_t(size), 0)
    # The descriptor ends with the process.
    return rules >= 0 and library.syscall(_RESTRICT_SELF, rules, 0) == 0


def _few_calls(library: ctypes.CDLL) -> bool:
    """seccomp: whatever does not stand in `_ALLOWED` is refused."""
    if platform.machine() != "x86_64" or sys.maxsize < 1 << 32:
        return False
    code = _program()

    class Program(ctypes.Structure):
        _fields_ = (("count", ctypes.c_ushort), ("code", ctypes.c_char_p))

    program = Program(len(code) // 8, code)
    return bool(library.prctl(_SET_SECCOMP, _FILTER, ctypes.byref(program), 0, 0) == 0)


def _program() -> bytes:
    """The filter as the kernel's own small machine reads it: (operation, jump if so, jump if not,
    operand). Documentation/userspace-api/seccomp_filter.rst"""

    def step(operation: int, operand: int, so: int = 0, otherwise: int = 0) -> bytes:
        return struct.pack("=HBBI", operation, so, otherwise, operand)

    allow, refuse = step(_RETURN, _ALLOW), step(_RETURN, _REFUSE | _FORBIDDEN)
    return b"".join(
        [
            step(_LOAD, _PROCESSOR),
            step(_EQUAL, _X86_64, 1) + refuse,
            step(_LOAD, _NUMBER),
            step(_AT_LEAST, _OTHER_NUMBERS, 0, 1) + refuse,
            *(step(_EQUAL, number, 0, 1) + allow for number in _ALLOWED.values()),
            step(_EQUAL, _CLONE, 0, 4),
            step(_LOAD, _FIRST) + step(_SET, _A_THREAD, 0, 1) + allow + refuse,
            step(_EQUAL, _LIMIT, 0, 4),
            step(_LOAD, _FIRST) + step(_EQUAL, 0, 0, 1) + allow + refuse,
            step(_LOAD, _NUMBER) + step(_AT_LEAST, _NEW, 0, 1) + step(_RETURN, _REFUSE | _ABSENT),
            refuse,
        ]
    )
