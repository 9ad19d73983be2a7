"""One layout: written, drafted, read by the draft as it is, and compared."""

import tempfile
from dataclasses import dataclass, field
from pathlib import Path

from sweepbook.dialect.load import BadDialect, parse
from sweepbook.draft.document import UNSETTLED, compose
from sweepbook.errors import ReadProblem
from sweepbook.formats import ReadSetting
from sweepbook.limits.library import Library
from sweepbook.reading import Pipeline
from sweepbook.record.model import Record
from sweepbook.registry import load
from sweepbook.source import Source

from .choices import Choices, draw
from .compare import Fault, faults
from .export import tests_of, write
from .wording import Wording

LIBRARY = Library.load()
_ASKED = f'first = "{UNSETTLED}"'
"""What a draft asks of a person where no file can tell it; it is answered here."""


@dataclass
class Outcome:
    """What became of one layout.

    Attributes:
        choices: its choices.
        draft: the text of the draft; "" where none was made.
        faults: of all tests; a test that was not read is a fault of the kind "refused".
        problems: messages of reading.
        settled: how many questions of the draft were answered.
    """

    choices: Choices
    draft: str = ""
    faults: list[Fault] = field(default_factory=list)
    problems: list[str] = field(default_factory=list)
    settled: int = 0

    def fields(self, kind: str) -> set[str]:
        """The fields with a fault of a kind."""
        return {name for of, name, _ in self.faults if of == kind}


def run(seed: int) -> Outcome:
    """Draft the layout of a number and read it."""
    with tempfile.TemporaryDirectory() as folder:
        return run_in(draw(seed), Path(folder))


def run_in(choices: Choices, folder: Path) -> Outcome:
    """The same in a folder that stays."""
    outcome = Outcome(choices)
    paths = write(choices, folder)
    entry = load().formats["csv"]
    assert entry.draft is not None
    tables = entry.draft([Source(path) for path in paths], LIBRARY)
    if tables is None:
        outcome.faults.append(("refused", "draft", "no draft"))
        return outcome
    outcome.draft = compose("csv", [path.name for path in paths], tables)
    outcome.settled = outcome.draft.count(_ASKED)
    text = outcome.draft.replace(_ASKED, 'first = "disturbing"')
    try:
        dialect = parse(text.encode(), "draft.toml")
        assert entry.check_dialect is not None
        entry.check_dialect(dialect)
    except BadDialect as bad:
        outcome.faults.append(("refused", "dialect", str(bad)))
        return outcome
    items = list(Pipeline(load(), ReadSetting(LIBRARY, {}, dialect)).read_all([folder]))
    outcome.problems = [f"{of.place}: {of.message}" for of in items if isinstance(of, ReadProblem)]
    records = [item for item in items if isinstance(item, Record)]
    _compare(outcome, records, Wording(choices))
    return outcome


def _compare(outcome: Outcome, records: list[Record], wording: Wording) -> None:
    tests = tests_of(outcome.choices)
    by_label: dict[str | None, list[Record]] = {}
    for record in records:
        by_label.setdefault(record.label, []).append(record)
    for test in tests:
        found = by_label.pop(test.label, [])
        if len(found) == 1:
            outcome.faults += faults(test, found[0], wording)
        else:
            kind = "refused" if not found else "wrong"
            outcome.faults.append((kind, "test", f"{test.label}: {len(found)} records"))
    for label, some in by_label.items():
        outcome.faults.append(("wrong", "label", f"{label!r}: {len(some)} records"))
