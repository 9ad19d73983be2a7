"""What to say where there is nothing to read."""

from collections.abc import Sequence
from pathlib import Path

from sweepbook.errors import SweepbookError
from sweepbook.inputs import is_book
from sweepbook.text import utf8_safe


def _withdrawn(book: Path) -> bool:
    """Whether anything of a book is withdrawn."""
    from sweepbook.book.layout import open_book
    from sweepbook.book.withdraw import in_words

    return bool(in_words(open_book(book)))


def nothing_in(paths: Sequence[Path]) -> SweepbookError:
    """The fault that these hold neither a test nor a file that could have held one.

    Args:
        paths: the books, files and folders that were named.
    """
    named = ", ".join(utf8_safe(str(path)) for path in paths)
    if all(is_book(path) for path in paths):
        if any(map(_withdrawn, paths)):
            return SweepbookError(
                f"There is no test in {named} but what is withdrawn.",
                f"`sweepbook withdraw {named}` lists that, and takes it back in with --back.",
            )
        return SweepbookError(
            f"There is no test in {named} yet.",
            f"Take exports into it: sweepbook gather {named} EXPORTS.",
        )
    return SweepbookError(
        f"There is no test in {named}.",
        "Name export files or folders that hold some. Files that begin with a dot, and books "
        "inside a folder, are passed over.",
    )
