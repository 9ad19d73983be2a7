"""The audit document: what was found out about a set of records, and what it rests on."""

import json
import tempfile
from collections.abc import Iterator
from dataclasses import fields
from types import TracebackType
from typing import IO, Any, Self

import orjson

from sweepbook import __version__, schemas
from sweepbook.audit.context import Context
from sweepbook.audit.entries import finding_entry, not_run_entry, problem_entry, record_entry
from sweepbook.audit.outcome import Counters
from sweepbook.audit.run import Run
from sweepbook.judging.assessment import Assessment

SCHEMA = "urn:sweepbook:audit-1"
DECISION_RULE = (
    "Measured values are compared unrounded with the limit at the measured frequencies. A pass is "
    "proved where every required value meets its limit over the whole interval left open by the "
    "digits of the source and by what is known of the limit; a fail where one required value "
    "misses it over the whole interval; otherwise nothing is proved. A value at the limit meets "
    "it. The asterisk does not decide: pass* counts as pass, fail* as fail."
)
_IN_MEMORY = 1 << 20


class Writer:
    """Takes assessments one by one and writes the document once all are known.

    The entries wait in a temporary file, so memory stays flat and a reader of the output never
    sees half a document. Use it as a context manager.
    """

    def __init__(self, run: Run) -> None:
        self._run = run
        self._count = 0
        self._spool: IO[bytes] = tempfile.SpooledTemporaryFile(_IN_MEMORY)  # noqa: SIM115

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._spool.close()

    def add(self, assessment: Assessment) -> None:
        """Take one assessed record; the order of the calls is the order in the document."""
        self.add_entry(entry(assessment))

    def add_entry(self, text: bytes) -> None:
        """Take what `entry` made of the next record, here or in another process."""
        self._spool.write(b",\n" if self._count else b"\n")
        self._spool.write(text)
        self._count += 1

    def write_to(self, stream: IO[bytes]) -> None:
        """Close the run and write the document as UTF-8, one record a line.

        Args:
            stream: open for writing bytes; it is not closed.
        """
        self._run.close()
        for name, value in head(self._run).items():
            lead = b"{\n" if name == "schema" else b",\n"
            stream.write(lead + _text(name) + b":" + _text(value))
        stream.write(b',\n"records": [')
        self._spool.seek(0)
        while chunk := self._spool.read(_IN_MEMORY):
            stream.write(chunk)
        stream.write(b"\n]" if self._count else b"]")
        for name, value in tail(self._run).items():
            stream.write(b",\n" + _text(name) + b":" + _text(value))
        stream.write(b"\n}\n")


def entry(assessment: Assessment) -> bytes:
    """The text of one record in the document."""
    return _text(record_entry(assessment))


def digests(run: Run) -> dict[str, Any]:
    """SHA-256 of the data that the judgements of a run rest on, as the document has them."""
    context = run.context
    return {
        "limits": dict(sorted(run.tables.items())),
        "catalogue": context.catalogue.sha256,
        "contributed_rules": context.catalogue.contributed_sha256,
        "interpretations": context.settings.interpretations.sha256,
        "practice": context.practice.sha256,
        "project": context.project.sha256 if context.project else None,
        "corrections": run.corrections.hexdigest() if run.corrections else None,
    }


def problems(document: Any) -> Iterator[str]:  # noqa: ANN401 - any JSON value
    """Hold an audit document against its schema; one sentence a fault, with the place of it."""
    return schemas.problems(document, "audit-1.schema.json")


def head(run: Run) -> dict[str, Any]:
    """The members before the records, of a run that is closed."""
    return {
        "schema": SCHEMA,
        "tool": {"name": "sweepbook", "version": __version__},
        "digests": digests(run),
        "options": _options(run.context),
        "interpretations": _interpretations(run.context),
        "decision_rule": DECISION_RULE,
        "job": run.context.job.to_json(),
        "summary": _summary(run.counters),
    }


def tail(run: Run) -> dict[str, Any]:
    """The members after the records, likewise."""
    return {
        "findings": [finding_entry(finding) for finding in run.findings],
        "rules_not_run": [not_run_entry(rule) for rule in run.rules_not_run],
        "problems": [problem_entry(problem) for problem in run.problems],
    }


def _options(context: Context) -> dict[str, str]:
    """What was asked for, and every setting that may change a judgement."""
    settings = context.settings
    return {
        "against": context.against or "",
        "grade_c": "used" if settings.grade_c else "not used without an interval",
        "asterisk": settings.asterisk,
        **context.options,
    }


def _interpretations(context: Context) -> dict[str, dict[str, bool]]:
    readings = context.settings.interpretations
    return {
        reading: {"on": readings.on(reading), "fixed": reading in readings.fixed}
        for reading in readings.ids()
    }


def _summary(counters: Counters) -> dict[str, Any]:
    return {
        "records": counters.records,
        "problems": counters.problems,
        "judgements": {word.value: count for word, count in counters.judgements.items()},
        "recomputed": {word.value: count for word, count in counters.recomputed.items()},
        "under_another_limit": counters.under_another,
        "marginal": counters.marginal,
        "again": counters.again,
        "findings": {word.value: count for word, count in counters.findings.items()},
        "accepted": counters.accepted,
        "rules": [
            {"rule": rule, **{part.name: getattr(tally, part.name) for part in fields(tally)}}
            for rule, tally in sorted(counters.rules.items())
        ],
    }


def _text(value: Any) -> bytes:  # noqa: ANN401 - any JSON value
    """UTF-8; a lone surrogate becomes its JSON escape, which the quick library does not write.

    It would write a number that is none as null. There is none here: the bounds of margins that
    are infinite are None by then (`entries`), and of a finding the engine of the rules takes no
    such argument.
    """
    try:
        return orjson.dumps(value)
    except TypeError:
        text = json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
        return text.encode("utf-8", "backslashreplace")
