"""Names under which files from anywhere can be kept on any disk."""

import errno
import re
from pathlib import PurePath

MOST_BYTES = 120
"""Bytes of UTF-8; many disks take 255, and some of them count otherwise."""

_LONGEST_ENDING = 24
_NOT_TAKEN = re.compile(r'[<>:"/\\|?*]')
_DEVICE = re.compile(
    r"(con|prn|aux|nul|com[0-9\u00b9\u00b2\u00b3]|lpt[0-9\u00b9\u00b2\u00b3])(\.|$)", re.IGNORECASE
)
"""Names that stand for devices (Microsoft Learn, "Naming Files, Paths, and Namespaces", as
remembered)."""

_OF_NAME = frozenset({errno.ENAMETOOLONG, errno.EILSEQ, errno.EINVAL})
"""What systems say of a name that their disk does not take."""
_PLAINEST = re.compile(r"(\.[A-Za-z0-9]{1,8}){1,2}$")


def plain_name(name: str) -> str:
    """A name as it is where every disk takes it, else one like it that they take.

    Characters that do not print, or that a file name on some system cannot have, become "_"; a
    long name is cut before its ending, so that what it says of the format stays.

    Args:
        name: name of a file, without folders.
    """
    plain = _NOT_TAKEN.sub("_", "".join(of if of.isprintable() else "_" for of in name))
    plain = f"{plain.rstrip('. ')}" or "_"
    if _DEVICE.match(plain) or plain.startswith(".sweepbook-"):
        plain = f"_{plain}"
    if len(plain.encode()) <= MOST_BYTES:
        return plain
    ending = "".join(PurePath(plain).suffixes[-2:])
    if len(ending.encode()) > _LONGEST_ENDING:
        ending = ""
    stem = plain.removesuffix(ending).encode()[: MOST_BYTES - len(ending.encode())]
    return stem.decode(errors="ignore").rstrip(". ") + ending


def is_of_name(error: BaseException | None) -> bool:
    """Whether a file could not be written for its name alone."""
    return isinstance(error, OSError) and error.errno in _OF_NAME


def spare_name(name: str) -> str:
    """A name that every disk takes, with the ending of one that a disk refused."""
    ending = _PLAINEST.search(name)
    return f"source{ending.group() if ending else ''}"
