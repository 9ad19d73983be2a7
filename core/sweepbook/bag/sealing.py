"""The last of a bag: its README, what it says of itself, and the digests of all."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from hashlib import sha256
from importlib.resources import files
from pathlib import Path

from sweepbook.bag import info, layout, listing
from sweepbook.bag.digests import digest_of, digests_below
from sweepbook.clock import now

_README = "bag-1.txt"


@dataclass(frozen=True, slots=True)
class Sealed:
    """What a bag came to.

    Attributes:
        files, size: of the payload; bytes.
        digest: of the list of tag files, by which all of the bag can be proved later.
    """

    files: int
    size: int
    digest: str


def seal(
    root: Path,
    name: str,
    told: tuple[info.Fields, info.Fields],
    facts: Mapping[str, str],
    on_file: Callable[[str], None] = lambda _: None,
) -> Sealed:
    """Write what lies beside the payload.

    Args:
        root: the bag's folder, with its payload.
        name: of the book.
        told: fields of bag-info.txt as given, and as the job says them.
        facts: what the README says of this bag, by title; of several lines perhaps.
        on_file: called with each path before its digest is computed.

    Raises:
        OSError: it cannot be written.
    """
    digests = digests_below(root, layout.PAYLOAD, layout.ALGORITHM, on_file)
    size = sum((root / path).stat().st_size for path in digests)
    counted = [(info.DAY, now()[:10]), (info.OXUM, f"{size}.{len(digests)}")]
    (root / layout.DECLARATION).write_bytes(layout.DECLARED)
    (root / layout.INFO).write_bytes(info.whole(*told, name, counted))
    (root / layout.README).write_bytes(readme(facts))
    (root / layout.MANIFEST).write_bytes(listing.written(digests))
    tags = {path: digest_of(root / path, layout.ALGORITHM) for path in layout.TAG_FILES}
    raw = listing.written(tags)
    (root / layout.TAG_MANIFEST).write_bytes(raw)
    return Sealed(len(digests), size, sha256(raw).hexdigest())


def readme(facts: Mapping[str, str]) -> bytes:
    """The README: what every bag's says, and the facts of this one."""
    text = files("sweepbook_schemas").joinpath(_README).read_text(encoding="utf-8")
    width = max(map(len, facts), default=0)
    lines = [
        f"    {title if not number else '':{width}}  {line}\n"
        for title, value in facts.items()
        for number, line in enumerate(value.splitlines())
    ]
    return (text + "".join(lines)).encode()
