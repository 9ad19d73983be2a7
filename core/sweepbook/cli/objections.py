"""Sheets of overturned verdicts, one file a test, to be handed to whoever made it."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from sweepbook import __version__
from sweepbook.audit import told
from sweepbook.audit.context import Context
from sweepbook.audit.run import case_of
from sweepbook.cli import lines, sheet, table
from sweepbook.cli.why_lines import briefly, once
from sweepbook.explain.asked import Part, gravest_first, margin
from sweepbook.explain.walk import walk
from sweepbook.files import write_bytes
from sweepbook.judging.assessment import Assessment, Judgement, Margin, Outcome, Recomputed
from sweepbook.judging.phrases import name
from sweepbook.rules.case import Case

COLUMNS = 80
_ASKED = {
    Recomputed.FAIL: "Please mend the link and test it again, or show raw data that prove the "
    "verdict as stated. Until then the link does not count as passed.",
    Recomputed.PASS: "Please say what the stated fail rests on, or state the verdict anew: the "
    "data handed over show no fail.",
}
_DEFER = (
    "This sheet judges data that were handed over; it is no test of the link. The contract, local "
    "codes and licensed practice come first."
)


@dataclass
class Objections:
    """Writes a sheet for each overturned verdict that it is shown.

    Attributes:
        folder: where to; made when the first sheet is written.
        context: what was judged by.
        written: the files so far.
    """

    folder: Path
    context: Context
    written: list[Path] = field(default_factory=list)

    @property
    def others(self) -> int:
        """How many files lie in the folder that this run did not write."""
        if not self.folder.is_dir():
            return 0
        mine = {path.name for path in self.written}
        return sum(path.is_file() and path.name not in mine for path in self.folder.iterdir())

    def see(self, assessment: Assessment) -> None:
        """Write the sheet of a test whose stated verdict is overturned.

        Raises:
            SweepbookError: the folder cannot be written to.
        """
        if assessment.judgement is not Judgement.OVERTURNED:
            return
        target = self.folder / _file_name(assessment)
        text = "\n".join(of(case_of(assessment.record, self.context), assessment))
        write_bytes(target, f"{text}\n".encode())
        self.written.append(target)


def _file_name(assessment: Assessment) -> str:
    """Label and the first digits of the record's digest: readable, and no two alike."""
    label = re.sub(r"[^A-Za-z0-9._-]+", "_", assessment.record.label).strip("._-")[:60]
    return f"{label or 'no-label'}-{assessment.record.record_id[4:12]}.txt"


def of(case: Case, assessment: Assessment) -> Iterator[str]:
    """The lines of a sheet."""
    label = assessment.record.label or "(no label)"
    title = f"Objection to the verdict stated for {label}"
    yield from table.paragraph(title, COLUMNS)
    yield "=" * min(len(title), COLUMNS)
    yield ""
    yield from table.facts(told.head(case.document), COLUMNS)
    yield ""
    yield from table.facts(sheet.verdict(assessment), COLUMNS)
    yield ""
    yield from table.paragraph(_ASKED[assessment.recomputed], COLUMNS)
    if own := list(_own(assessment)):
        yield ""
        yield from table.facts(own, COLUMNS)
    for chosen, others in _groups(assessment):
        yield ""
        yield from table.facts(once(walk(case, chosen, alone=False)), COLUMNS)
        if others:
            said = "; ".join(briefly(part) for part in others)
            yield from table.facts([("likewise", said)], COLUMNS)
    yield ""
    yield from table.facts(_how(case, assessment), COLUMNS)
    yield ""
    if assessment.recomputed is Recomputed.FAIL:
        yield from table.paragraph(lines.CAUTION, COLUMNS)
    yield from table.paragraph(_DEFER, COLUMNS)


def _groups(assessment: Assessment) -> Iterator[tuple[Part, tuple[Part, ...]]]:
    """By parameter the part to walk through and its likes: failing ones, or the nearest to it.

    Margins in dB compare with each other; a figure in its own unit goes only where no curve is.
    """
    every = gravest_first((*assessment.margins, *assessment.scalars))
    required = [part for part in every if part.obligation == "required"]
    failing = [part for part in required if part.outcome is Outcome.FAIL]
    if not failing:
        yield min(required, key=lambda part: (_closeness(part), margin(part))), ()
    for parameter in dict.fromkeys(part.parameter for part in failing):
        first, *rest = (part for part in failing if part.parameter == parameter)
        yield first, tuple(rest)


def _closeness(part: Part) -> int:
    """Curves in dB that have a margin, before other parts that have one, before the rest."""
    if margin(part) == float("inf") or part.unit == "faults":
        return 2
    return 0 if isinstance(part, Margin) and part.unit == "dB" else 1


def _own(assessment: Assessment) -> Iterator[tuple[str, str]]:
    """What the source itself states of the parts of a test that it calls a fail."""
    if assessment.recomputed is not Recomputed.PASS:
        return
    by_word: dict[str, list[str]] = {}
    for item in assessment.record.document["stated"].get("items", []):
        if "verdict" in item:
            words = (name(item["parameter"]), "/".join(item.get("pairs", ())), item.get("end", ""))
            by_word.setdefault(item["verdict"], []).append(" ".join(filter(None, words)))
    for word in ("fail", "fail*", "pass*", "pass"):
        if word in by_word:
            yield f"stated {word}", ", ".join(dict.fromkeys(by_word[word]))
    if by_word and not by_word.keys() & {"fail", "fail*"}:
        yield "stated fail", "no part of it, by the source's own words"


def _how(case: Case, assessment: Assessment) -> Iterator[tuple[str, str]]:
    yield "judged by", f"sweepbook {__version__}"
    yield "limit table", f"{assessment.limit_path}, SHA-256 {assessment.limit_sha256}"
    on = (name for name in case.interpretations.ids() if case.interpretations.on(name))
    yield "readings on", ", ".join(on) or "none"
