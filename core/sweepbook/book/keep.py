"""Sources and dialects as they came, copied into a book, each once."""

import hashlib
from dataclasses import replace
from pathlib import Path

from sweepbook import files
from sweepbook.archive import Member
from sweepbook.belonging import Chosen
from sweepbook.book.layout import Book, kept_source
from sweepbook.book.plain_name import is_of_name, plain_name, spare_name
from sweepbook.errors import SweepbookError
from sweepbook.formats import ReadSetting
from sweepbook.source import Source, UnreadableSource


def source(book: Book, source: Source) -> Source:
    """Copy the bytes as they came, unless the book has them; the source in the book.

    Raises:
        UnreadableSource: the source cannot be read to its end, or changed meanwhile.
        SweepbookError: the book cannot be written to.
    """
    there = kept_source(book, source.sha256)
    plain = plain_name(source.file_name)
    called = source.name if isinstance(source, Member) or plain != source.file_name else ""
    if there is not None:
        return Source(there, source.bounds, called)
    target = book.source_folder(source.sha256) / plain
    try:
        _copy(book, source, target)
    except SweepbookError as error:
        if not is_of_name(error.__cause__):
            raise
        target, called = target.with_name(spare_name(plain)), source.name
        _copy(book, source, target)
    return Source(target, source.bounds, called)


def joined(book: Book, setting: ReadSetting) -> ReadSetting:
    """The setting with the files that are joined to a source as the book keeps them.

    Raises:
        UnreadableSource, SweepbookError: as for the source.
    """
    beside = tuple((source(book, one), dialect) for one, dialect in setting.beside)
    others = tuple((source(book, one), texts) for one, texts in setting.others)
    return replace(setting, others=others, beside=beside)


def _copy(book: Book, source: Source, target: Path) -> None:
    """Copy the bytes as they came.

    Raises:
        UnreadableSource: the source cannot be read to its end, or changed meanwhile.
        SweepbookError: the book cannot be written to.
    """
    digest = hashlib.sha256()
    with files.replaced(target, book.root) as part, part.open("wb") as copy:
        for chunk in source.raw_chunks():
            digest.update(chunk)
            copy.write(chunk)
        copy.flush()
        if digest.hexdigest() != source.sha256:
            raise UnreadableSource(
                source.name,
                "The file changed while it was being copied.",
                "Wait until its program has finished writing and gather it again.",
            )


def dialect(book: Book, chosen: Chosen) -> None:
    """Keep the dialect as used, once."""
    dialect = chosen.setting.dialect
    if dialect is not None and not book.dialect(dialect.sha256).exists():
        files.write_bytes(book.dialect(dialect.sha256), dialect.raw, book.root)
