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


def refuse_empty(book: Path, called: Path) -> None:
    """Refuse a book with neither a test that counts nor a problem in reading one.

    Args:
        book: where it lies.
        called: the path by which people know it.

    Raises:
        SweepbookError: it is of that kind, or its journal is damaged.
    """
    from sweepbook.book.layout import open_book
    from sweepbook.book.store import contents_of

    contents = contents_of(open_book(book))
    if not contents.entries() and next(contents.problems(), None) is None:
        raise nothing_in([called])


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
                f"`sweepbook withdraw {named}` lists that; SOURCE and --back take it back in.",
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
