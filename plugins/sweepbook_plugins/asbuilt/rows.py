"""From an assessed record to the rows that it brings."""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from sweepbook.judging.overview import ALL
from sweepbook.schedule.trace import again
from sweepbook_plugins.asbuilt import figures, results
from sweepbook_plugins.asbuilt.batch import Batch, Cells, no_cells
from sweepbook_plugins.asbuilt.ends_of_tests import EndsOfTests
from sweepbook_plugins.asbuilt.entities import Entities, Row
from sweepbook_plugins.asbuilt.judged import (
    of_corrections,
    of_finding,
    of_not_run,
    of_spellings,
    worst,
)
from sweepbook_plugins.asbuilt.kinds import Kinds
from sweepbook_plugins.asbuilt.schema import Schema
from sweepbook_plugins.asbuilt.values import (
    clean,
    items,
    moments,
    named,
    number,
    part,
    text,
    word,
)

if TYPE_CHECKING:
    from sweepbook.findings import Finding
    from sweepbook.judging.assessment import Assessment

RULED = ("finding", "rule_not_run")
"""Tables whose rows refer to a rule."""


class Rows:
    """Makes the rows of one test after the other, in whatever process.

    What tests share is given once: a copy of this in another process gives it once there, too.

    Attributes:
        entities: numbers of what tests share.
    """

    def __init__(self, job: str, said: Row, schema: Schema, margins: str = ALL) -> None:
        """Begin with nothing.

        Args:
            job: name of the job.
            said: what is said of it, by column.
            schema: has the words that columns may hold.
            margins: which results are wanted: ALL, WORST of each parameter, or NONE.
        """
        self.entities = Entities(job, said)
        self._margins = margins
        self._ends = EndsOfTests(self.entities)
        self._figures = Kinds(self.entities, "figure_kind", figures.KIND)
        self._results = Kinds(self.entities, "result_kind", results.KIND)
        self._words = schema.words
        self._columns = {name: table.names for name, table in schema.tables.items()}

    def of(self, assessment: "Assessment") -> Batch:
        """The rows of a test, and those that it is the first to share."""
        record, entities = assessment.record, self.entities
        document, record_id = record.document, clean(record.record_id)
        label = clean(record.label) or None
        test_id = named(entities.job, record_id).id
        link_id, cable_id = entities.link_and_cable(document, label, record_id)
        test: Row = {
            "id": test_id,
            "job_id": entities.job_id,
            "record_id": record_id,
            "link_id": link_id,
            "cable_id": cable_id,
            "label": label,
            **self._test(assessment),
        }
        rows: dict[str, Sequence[Row]] = {
            "test": (test,),
            "test_end": self._ends.of(test_id, document),
            "test_source": self._sources(test_id, document),
            "external_id": _external_ids(test_id, link_id, document),
        }
        found: dict[str, Iterable[Row]] = {
            "finding": map(_finding, assessment.findings),
            "correction": of_corrections(record),
            "spelling": of_spellings(record),
            "rule_not_run": map(of_not_run, assessment.rules_not_run),
        }
        for table, listed in found.items():
            rows[table] = [{"test_id": test_id, "position": n, **r} for n, r in enumerate(listed)]
        own = self._cells(rows)
        scalars = items(document, "results", "scalars")
        figures.add_figures(own["figure_value"], test_id, scalars, self._figures)
        results.add_results(own["result_value"], test_id, assessment, self._results, self._margins)
        rules = {str(row["rule"]) for table in RULED for row in rows[table]}
        return Batch({test_id: link_id}, rules, self.shared(), own)

    def shared(self) -> Cells:
        """The rows that tests share, of those made here the ones that were not given yet."""
        return self._cells(self.entities.taken())

    def _cells(self, rows: Mapping[str, Iterable[Row]]) -> Cells:
        """The cells of rows; a column that a row lacks is None."""
        made = no_cells()
        for table, listed in rows.items():
            names = self._columns[table]
            for row in listed:
                made[table] += map(row.get, names)
        return made

    def _sources(self, test_id: int, document: Mapping[str, Any]) -> list[Row]:
        """Where a test was found."""
        return [
            {
                "test_id": test_id,
                "source_id": self.entities.source(origin),
                "locator": text(origin, "locator") or "",
            }
            for origin in items(document, "origin")
        ]

    def _test(self, assessment: "Assessment") -> Row:
        """What the row of a test says besides whose it is."""
        document = assessment.record.document
        test, configuration = part(document, "test"), part(document, "test", "configuration")
        return {
            "purpose": word(test, "purpose", self._words["purpose"]),
            "limit_as_stated": text(part(test, "limit"), "as_stated"),
            "configuration": text(configuration, "kind"),
            "configuration_as_stated": text(configuration, "as_stated"),
            **self._times(test),
            "operator": text(test, "operator"),
            "ambient_c": number(test, "ambient_c"),
            "nvp": number(part(document, "link", "cable"), "nvp"),
            "gathered": text(part(document, "provenance"), "read_at"),
            "is_current": 0,
            **self._verdict(assessment),
            **worst(assessment),
        }

    def _times(self, test: Mapping[str, Any]) -> Row:
        started = part(test, "started")
        known = moments(started)
        return {
            "started": known.rfc3339,
            "started_as_stated": text(started, "as_stated"),
            "zone_source": word(started, "zone_source", self._words["zone source"]),
            "started_local": known.local,
            "started_utc": known.utc,
            "ended": moments(part(test, "ended")).rfc3339,
            "field_reference": moments(part(test, "field_reference", "performed")).rfc3339,
        }

    def _verdict(self, assessment: "Assessment") -> Row:
        stated = part(assessment.record.document, "stated", "overall")
        path, sha256 = assessment.limit_path, assessment.limit_sha256
        return {
            "limit_table_id": None if path is None else self.entities.limit_table(path, sha256),
            "limit_how": clean(assessment.limit_how),
            "stated": assessment.stated,
            "stated_as": text(stated, "as_stated"),
            "recomputed": str(assessment.recomputed),
            "judgement": str(assessment.judgement),
            "reason": clean(assessment.reason),
            "grade": assessment.grade,
            "marginal": clean(assessment.marginal) or None,
            "again": clean(again(assessment)) or None,
        }


def _finding(finding: "Finding") -> Row:
    return {**of_finding(finding), "path": clean(finding.path)}


def _external_ids(test_id: int, link_id: int, document: Mapping[str, Any]) -> list[Row]:
    """What other systems call the link, each once."""
    stated = items(document, "link", "external_ids")
    pairs = [(text(entry, "system"), text(entry, "id")) for entry in stated]
    return [
        {"test_id": test_id, "system": system, "identifier": its, "link_id": link_id}
        for system, its in dict.fromkeys(pairs)
        if system is not None and its is not None
    ]
