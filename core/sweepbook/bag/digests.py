"""The files of a bag and their digests."""

import hashlib
import os
from collections.abc import Callable, Iterator
from pathlib import Path

from sweepbook.inputs import check_regular


def files_below(root: Path) -> Iterator[tuple[str, Path]]:
    """Every entry below a folder that is no folder, links included, by its path from there."""
    for folder, folders, names in os.walk(root):
        links = (name for name in folders if Path(folder, name).is_symlink())
        for name in (*names, *links):
            path = Path(folder, name)
            yield path.relative_to(root).as_posix(), path


def digest_of(path: Path, algorithm: str) -> str:
    """Digest of a file in small digits.

    Raises:
        OSError: it cannot be read.
        ValueError: this Python has no such algorithm.
    """
    check_regular(path)
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, algorithm).hexdigest()


def digests_below(
    root: Path, below: str, algorithm: str, on_file: Callable[[str], None]
) -> dict[str, str]:
    """Digests of all files in a folder of a bag, by their paths from the bag."""
    found = {}
    for path, file in sorted(files_below(root / below)):
        whole = f"{below}/{path}"
        on_file(whole)
        found[whole] = digest_of(file, algorithm)
    return found
