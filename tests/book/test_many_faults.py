"""Of a file with very many faults the first are told, and what ends its proof always."""

from collections.abc import Callable
from pathlib import Path

import pytest

from sweepbook.book import journal
from sweepbook.book.proof import MOST_TOLD, Proof
from sweepbook.book.prove import prove

from .simple import Job


@pytest.fixture
def job(tmp_path: Path) -> Job:
    job = Job.begin(tmp_path, a="A-1,pass,3.21\n")
    job.gather()
    return job


def test_of_very_many_faults_of_a_file_the_first_are_told_and_the_rest_counted(job: Job) -> None:
    *_, last = journal.read(job.book.journal)
    sources = [{"sha256": "ab" * 32, "from": "x"}]  # of no source, and without a name
    for _ in range(MOST_TOLD):
        last = journal.append(job.book.journal, last, "given", {"program": "x", "sources": sources})
    faults = [one for one in prove(job.book.root, Proof()) if one.place.startswith("journal")]
    assert len(faults) == MOST_TOLD + 1
    assert (faults[-1].place, faults[-1].damage) == ("journal.jsonl", True)
    assert faults[-1].message.startswith(f"{faults[-1].count} more of its lines")
    assert sum(one.count for one in faults) >= 2 * MOST_TOLD


@pytest.mark.parametrize(
    ("harm", "told"),
    [
        (lambda raw: raw[:-9], "was cut"),
        (lambda raw: raw[:-90] + raw[-90:].replace(b'"x"', b'"y"'), "does not fit its text"),
    ],
)  # fmt: skip
def test_what_ends_the_proof_of_the_journal_is_told_after_however_many_faults(
    job: Job, harm: Callable[[bytes], bytes], told: str
) -> None:
    *_, last = journal.read(job.book.journal)
    for _ in range(MOST_TOLD + 5):
        sources = [{"sha256": "ab" * 32, "from": "x"}]
        last = journal.append(job.book.journal, last, "given", {"program": "x", "sources": sources})
    raw = job.book.journal.read_bytes()
    job.book.journal.write_bytes(harm(raw))
    assert job.book.journal.read_bytes() != raw
    faults = [one for one in prove(job.book.root, Proof()) if one.place.startswith("journal")]
    first = faults[:MOST_TOLD]
    assert all("bytes of it" not in one.message for one in first)
    assert [one for one in faults[MOST_TOLD:] if told in one.message and one.count == 1]
