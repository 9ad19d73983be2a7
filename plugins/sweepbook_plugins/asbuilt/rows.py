"""From an assessed record to the rows that it brings."""

from collections import defaultdict
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from sweepbook.errors import SweepbookError
from sweepbook.schedule.trace import again
from sweepbook_plugins.asbuilt import figures, results
from sweepbook_plugins.asbuilt.entities import Entities, Row
from sweepbook_plugins.asbuilt.judged import (
    of_corrections,
    of_finding,
    of_job,
    of_not_run,
    of_spellings,
    worst,
)
from sweepbook_plugins.asbuilt.kinds import Kinds
from sweepbook_plugins.asbuilt.schema import Schema
from sweepbook_plugins.asbuilt.values import (
    Named,
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
    from sweepbook.limits.library import Library
    from sweepbook.project.job import Job

_CONNECTOR = {
    "maker": "connector_maker",
    "part": "connector_part",
    "category": "connector_category",
}
_OF_UNIT = ("firmware", "accuracy_level", "calibrated_on", "calibration_due")


class Rows:
    """What a batch of tests brings, table by table.

    Attributes:
        entities: rows that tests share.
        rows: rows of one test each, by column.
        cells: of the tables with the most rows, one row after the other, each in the order of the
            columns.
    """

    def __init__(self, name: str, job: "Job", schema: Schema, limits: "Library") -> None:
        self.entities = Entities(name, of_job(job))
        self.rows: defaultdict[str, list[Row]] = defaultdict(list)
        self.cells: defaultdict[str, list[Value]] = defaultdict(list)
        self._figures = Kinds(self.entities, "figure_kind", figures.KIND)
        self._results = Kinds(self.entities, "result_kind", results.KIND)
        self._words = schema.words
        self._limits = limits
        self._tables: dict[tuple[str, str | None], int] = {}

    def number_of(self, assessment: "Assessment") -> Named:
        """The number of the test in the database."""
        return named(self.entities.job, clean(assessment.record.record_id))

    def add(self, test_id: int, assessment: "Assessment") -> None:
        """Take in a test that is not in the batch yet."""
        document = assessment.record.document
        row = self._test(test_id, assessment)
        self.rows["test"].append(row)
        self._ends(test_id, document)
        self.add_sources(test_id, document)
        self.rows["external_id"].extend(
            {"test_id": test_id, "system": system, "identifier": its, "link_id": row["link_id"]}
            for system, its in _external_ids(document)
        )
        scalars = items(document, "results", "scalars")
        figures.add_figures(self.cells["figure_value"], test_id, scalars, self._figures)
        results.add_results(self.cells["result_value"], test_id, assessment, self._results)
        self.rows["correction"].extend(
            {"test_id": test_id, "position": n, **row}
            for n, row in enumerate(of_corrections(assessment.record))
        )
        self.rows["spelling"].extend(
            {"test_id": test_id, "position": n, **row}
            for n, row in enumerate(of_spellings(assessment.record))
        )
        self.rows["finding"].extend(
            {**of_finding(finding), "test_id": test_id, "position": n, "path": clean(finding.path)}
            for n, finding in enumerate(assessment.findings)
        )
        self.rows["rule_not_run"].extend(
            {**of_not_run(rule), "test_id": test_id, "position": n}
            for n, rule in enumerate(assessment.rules_not_run)
        )

    def add_sources(self, test_id: int, document: Mapping[str, Any]) -> None:
        """Take in where a test was found."""
        for origin in items(document, "origin"):
            source_id, locator = self.entities.source(origin), text(origin, "locator") or ""
            row: Row = {"test_id": test_id, "source_id": source_id, "locator": locator}
            self.rows["test_source"].append(row)

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
        return {
            "limit_table_id": self._limit_table(assessment),
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

    def _limit_table(self, assessment: "Assessment") -> int | None:
        path, sha256 = assessment.limit_path, assessment.limit_sha256
        if path is None:
            return None
        if (path, sha256) not in self._tables:
            self._tables[path, sha256] = self._described(path, sha256)
        return self._tables[path, sha256]

    def _described(self, path: str, sha256: str | None) -> int:
        names = ("document", "edition", "class_or_category", "configuration", "title")
        try:
            table = self._limits.table(path)
        except SweepbookError:
            return self.entities.limit_table(path, sha256, {})
        known = {name: getattr(table, name) for name in names if table.sha256 == sha256}
        return self.entities.limit_table(path, sha256, known)

    def _ends(self, test_id: int, document: Mapping[str, Any]) -> None:
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
            self.rows["test_end"].append(row)


def _external_ids(document: Mapping[str, Any]) -> list[tuple[str, str]]:
    """System and id of each, once."""
    stated = items(document, "link", "external_ids")
    pairs = [(text(entry, "system"), text(entry, "id")) for entry in stated]
    return list(dict.fromkeys((a, b) for a, b in pairs if a is not None and b is not None))
