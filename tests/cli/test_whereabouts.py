"""Records are read again where they lie; what is gone meanwhile is left out, and nothing ends."""

import shutil
from functools import partial
from pathlib import Path

from sweepbook.book import corrections
from sweepbook.book.layout import open_book
from sweepbook.cli.whereabouts import Whereabouts, from_book
from sweepbook.record.model import Record


def test_records_of_a_book_come_again_and_those_that_are_gone_do_not(
    book: Path, tmp_path: Path
) -> None:
    copy = Path(shutil.copytree(book, tmp_path / "book"))
    whereabouts = Whereabouts()
    noted = whereabouts.noted(corrections.records(open_book(copy)), partial(from_book, copy))
    records = [item for item in noted if isinstance(item, Record)]
    ids = [one.record_id for one in records]
    assert sorted(one.record_id for one in whereabouts.recall([*ids, "sb0-unheard-of"])) == sorted(
        ids
    )
    open_book(copy).record(ids[0]).unlink()
    assert sorted(one.record_id for one in whereabouts.recall(ids)) == sorted(ids[1:])
    shutil.rmtree(copy)
    assert list(whereabouts.recall(ids)) == []
