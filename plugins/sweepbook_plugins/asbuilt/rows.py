"""From an assessed record to the rows that it brings."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from sweepbook.judging.overview import ALL
from sweepbook.schedule.trace import again
from sweepbook_plugins.asbuilt import figures, results
from sweepbook_plugins.asbuilt.batch import Batch
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
    Value,
    clean,
    flag,
    items,
    moments,
    named,
    number,
    part,
    text,
    word,
)

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment

_CONNECTOR = {
    "maker": "connector_maker",
    "part": "connector_part",
    "category": "connector_category",
}
_OF_UNIT = ("firmware", "accuracy_level", "calibrated_on", "calibration_due")


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
        self._figures = Kinds(self.entities, "figure_kind", figures.KIND)
        self._results = Kinds(self.entities, "result_kind", results.KIND)
        self._words = schema.words

    def of(self, assessment: "Assessment") -> Batch:
        """The rows of a test, and those that it is the first to share."""
        test_id = named(self.entities.job, clean(assessment.record.record_id)).id
        batch, document = Batch([test_id]), assessment.record.document
        rows, cells = batch.rows, batch.cells
        test = self._test(test_id, assessment)
        rows["test"].append(test)
        rows["test_end"] = self._ends(test_id, document)
        rows["test_source"] = self._sources(test_id, document)
        rows["external_id"] = [
            {"test_id": test_id, "system": system, "identifier": its, "link_id": test["link_id"]}
            for system, its in _external_ids(document)
        ]
        scalars = items(document, "results", "scalars")
        figures.add_figures(cells["figure_value"], test_id, scalars, self._figures)
        results.add_results(
            cells["result_value"], test_id, assessment, self._results, self._margins
        )
        rows["finding"] = [
            {**of_finding(finding), "test_id": test_id, "position": n, "path": clean(finding.path)}
            for n, finding in enumerate(assessment.findings)
        ]
        found: dict[str, Iterable[Row]] = {
            "correction": of_corrections(assessment.record),
            "spelling": of_spellings(assessment.record),
            "rule_not_run": map(of_not_run, assessment.rules_not_run),
        }
        for table, listed in found.items():
            rows[table] = [{"test_id": test_id, "position": n, **r} for n, r in enumerate(listed)]
        batch.shared = self.entities.taken()
        return batch

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

    def _test(self, test_id: int, assessment: "Assessment") -> Row:
        document, record_id = assessment.record.document, clean(assessment.record.record_id)
        label = clean(assessment.record.label) or None
        link_id, cable_id = self.entities.link_and_cable(document, label, record_id)
        test, configuration = part(document, "test"), part(document, "test", "configuration")
        return {
            "id": test_id,
            "job_id": self.entities.job_id,
            "record_id": record_id,
            "link_id": link_id,
            "cable_id": cable_id,
            "label": label,
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

    def _ends(self, test_id: int, document: Mapping[str, Any]) -> list[Row]:
        rows: list[Row] = []
        for end in ("near", "far"):
            where, tester = part(document, "link", end), part(document, "test", end)
            connector, unit = part(where, "connector"), part(tester, "instrument")
            place_id, termination_id = self.entities.stated_end(where)
            row: dict[str, Value] = {
                "test_id": test_id,
                "at_end": end,
                "place_id": place_id,
                "termination_id": termination_id,
                "connector_screened": flag(connector, "screened"),
                "instrument_id": self.entities.instrument(unit),
                "adaptor_id": self.entities.adaptor(part(tester, "adaptor")),
            }
            for name, column in _CONNECTOR.items():
                row[column] = text(connector, name)
            for name in _OF_UNIT:
                row[name] = text(unit, name)
            rows.append(row)
        return rows


def _external_ids(document: Mapping[str, Any]) -> list[tuple[str, str]]:
    """System and id of each, once."""
    stated = items(document, "link", "external_ids")
    pairs = [(text(entry, "system"), text(entry, "id")) for entry in stated]
    return list(dict.fromkeys((a, b) for a, b in pairs if a is not None and b is not None))
