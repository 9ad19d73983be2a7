"""The bag in whose place a new one comes: its digest, and what people told of it."""

from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from sweepbook.bag import info, layout
from sweepbook.bag.unpack import first_file
from sweepbook.errors import SweepbookError
from sweepbook.inputs import small_file


@dataclass(frozen=True, slots=True)
class Before:
    """What is to be told of a bag that goes.

    Attributes:
        digest: of the bag; "" where its list of files cannot be read.
        lost: the fields of its bag-info.txt that the new one has not, apart from those that the
            program works out.
    """

    digest: str
    lost: tuple[tuple[str, str], ...]


def before(out: Path, new: bytes) -> Before | None:
    """What lies at a place and goes; None where no bag does.

    Args:
        out: the place.
        new: bag-info.txt of the bag that comes there.
    """
    old = _read(out, layout.INFO)
    if old is None:
        return None
    kept = info.read(new)
    fields = info.read(old).items()
    lost = ((name, text) for name, text in fields if name not in {*kept, *info.WORKED_OUT})
    listed = _read(out, layout.TAG_MANIFEST)
    return Before(sha256(listed).hexdigest() if listed is not None else "", tuple(lost))


def _read(out: Path, name: str) -> bytes | None:
    try:
        if out.is_dir():
            return small_file(out / name, layout.MOST_TAG)
        return first_file(out, name) if out.is_file() else None
    except (OSError, SweepbookError):
        return None
