"""One delivery on its way into the database."""

import hashlib
import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING

from sweepbook.errors import ReadProblem
from sweepbook.judging.overview import ALL
from sweepbook_plugins.asbuilt import withdrawn
from sweepbook_plugins.asbuilt.batch import Batch
from sweepbook_plugins.asbuilt.deserted import take_out
from sweepbook_plugins.asbuilt.ends import settle_ends
from sweepbook_plugins.asbuilt.entities import Entities, Row
from sweepbook_plugins.asbuilt.judged import of_finding, of_job, of_not_run
from sweepbook_plugins.asbuilt.limit_tables import described
from sweepbook_plugins.asbuilt.margins import MARGINS, refuse_other
from sweepbook_plugins.asbuilt.one_link import bring_together
from sweepbook_plugins.asbuilt.rows import Rows
from sweepbook_plugins.asbuilt.schedule import LetStand, put_schedule
from sweepbook_plugins.asbuilt.schema import Schema
from sweepbook_plugins.asbuilt.scheme import put_scheme, stand_in
from sweepbook_plugins.asbuilt.settle import let_go, settle
from sweepbook_plugins.asbuilt.values import Value, clean, named
from sweepbook_plugins.asbuilt.writing import Writing, cut

if TYPE_CHECKING:
    from sweepbook.delivery import About, Delivery
    from sweepbook.judging.assessment import Assessment
    from sweepbook.judging.hold import Held
    from sweepbook.schedule.model import Schedule

BATCH = 80
"""Tests that are put in at once: while they are, other processes make as many more, and wait."""
_LIMIT = "limit table "


class Load:
    """One delivery on its way into the database.

    Attributes:
        let_stand: see `put_schedule`; known when all is in.
    """

    let_stand: LetStand

    def __init__(self, writing: Writing, delivery: "Delivery", schema: Schema, fresh: bool) -> None:
        self._writing = writing
        self._delivery = delivery
        self._schema = schema
        self._fresh = fresh
        about = delivery.about
        self._margins = delivery.asked.get(MARGINS, ALL)
        said: Row = {**of_job(about.job), MARGINS: self._margins}
        self._rows = Rows(clean(about.title), said, schema, self._margins)
        self._seen: set[int] = set()
        self._deserted: set[int] = set()
        self._named: set[str] = set()
        self._batch = Batch()

    @property
    def job_id(self) -> int:
        """Number of the job that the delivery is of."""
        return self._rows.entities.job_id

    @property
    def entities(self) -> Entities:
        """Numbers of what the tests of the job share."""
        return self._rows.entities

    def run(self) -> None:
        """Put everything in: what tests share, tests, what is known only at the end.

        Raises:
            SweepbookError: the job is there with other results than are wanted.
        """
        about = self._delivery.about
        if not self._fresh:
            refuse_other(self._writing.connection, self.job_id, self._margins)
        self._writing.put("about", _said(about, self._schema))
        self._writing.put("rule", _rules(about))
        for one in self._delivery.each(partial(_brought, self._rows)):
            (number,) = one.link_of
            if number in self._seen:  # the same record once more, from another file
                self._batch.take_in_sources(one)
                continue
            self._seen.add(number)
            self._batch.take_in(one)
            if len(self._batch.link_of) >= BATCH:
                self._flush()
        basis_id, told = self._basis()
        self._batch.share(self._rows.shared())
        self._flush()
        self._writing.put("basis_item", told)
        self._whole()
        self._writing.index()
        if not self._fresh and self._delivery.withdrawn:
            connection, gone = self._writing.connection, self._delivery.withdrawn
            self._deserted |= withdrawn.let_go(
                connection, self._schema, self.job_id, gone, self._seen
            )
        self._bring_together()
        exported = self._exported()
        settle(self._writing.connection, self._seen, self._deserted, basis_id, exported)
        entities, about = self._rows.entities, self._delivery.about
        scheme = stand_in(self._writing, entities.job_id, self._delivery.scheme)
        self.let_stand = put_schedule(
            *(self._writing, entities, self._delivery.schedule, about.limits, scheme),
            *(about.job.site, about.accepts),
        )
        put_scheme(self._writing, entities, scheme)
        settle_ends(self._writing, entities)
        take_out(self._writing.connection, self._deserted)

    def _bring_together(self) -> None:
        """Make one of links that turn out to be one."""
        site = self._delivery.about.job.site
        moved = bring_together(self._writing.connection, self.job_id, site)
        self.entities.moved = moved
        self._deserted |= {*moved, *moved.values()}

    def _flush(self) -> None:
        """Write what waits, in the order in which tables refer to each other."""
        batch, writing = self._batch, self._writing
        self._batch = Batch()
        self._name_rules(batch.rules)
        if not self._fresh:
            self._deserted |= let_go(writing.connection, batch.link_of)
        self._describe(batch.shared["limit_table"])
        for name, table in self._schema.tables.items():
            if table.there == "rewrite" and table.owner == "test_id" and not self._fresh:
                writing.clear(name, batch.link_of)
            for cells in (batch.shared.pop(name, ()), batch.own.pop(name, ())):
                writing.put_cells(name, cells)

    def _describe(self, cells: list[Value]) -> None:
        """Add to the rows of limit tables what the library tells of them."""
        names = self._schema.tables["limit_table"].names
        rows = [dict(zip(names, row, strict=True)) for row in cut(cells, len(names))]
        told = [described(row, self._delivery.about.limits) for row in rows]
        cells[:] = [row[name] for row in told for name in names]

    def _name_rules(self, rules: Iterable[str]) -> None:
        """Put in the rules that the catalogue lacks, so that what they found can refer to them."""
        new = {*rules} - self._named
        self._writing.put("rule", [{"rule": rule} for rule in sorted(new)], "keep")
        self._named |= new

    def _basis(self) -> tuple[int, list[Row]]:
        """What the delivery was judged by, and the items of that; complete when all is walked."""
        about = self._delivery.about
        options = [("option", name, value) for name, value in about.options.items()]
        digests = [
            ("digest", name, value)
            for name, value in about.digests.items()
            if not name.startswith(_LIMIT)
        ]
        listed = sorted(options + list(_readings(about)) + digests)
        text = json.dumps([about.program, about.decision_rule, listed])
        row = {"program": about.program, "decision_rule": about.decision_rule}
        basis_id = self._rows.entities.basis(hashlib.sha256(text.encode()).hexdigest(), row)
        told: list[Row] = [
            {"basis_id": basis_id, "kind": kind, "name": name, "value": value}
            for kind, name, value in listed
        ]
        return basis_id, told

    def _whole(self) -> None:
        """What was found about the delivery as a whole, in place of what an earlier one found.

        A delta that a whole delivery is put into is none any longer.
        """
        job_id, delivery = self._rows.entities.job_id, self._delivery
        self._writing.clear("changed_link", [job_id])
        self._writing.connection.exec_driver_sql("DELETE FROM about WHERE name = 'since'")
        whole: dict[str, list[Row]] = {
            "set_finding": [of_finding(finding) for finding in delivery.findings],
            "set_rule_not_run": [of_not_run(rule) for rule in delivery.rules_not_run],
            "reading_problem": [
                {
                    "source": clean(problem.source),
                    "place": clean(problem.place),
                    "message": clean(problem.message),
                    "lost_record": int(problem.lost_record),
                }
                for problem in (*delivery.problems, *_not_taken(delivery.schedule))
            ],
        }
        self._writing.clear("set_finding_test", [job_id])
        for table, rows in whole.items():
            self._name_rules({str(row["rule"]) for row in rows if "rule" in row})
            self._writing.clear(table, [job_id])
            placed = [{"job_id": job_id, "position": n, **row} for n, row in enumerate(rows)]
            self._writing.put(table, placed)
        self._writing.put("set_finding_test", self._found_in())

    def _exported(self) -> dict[int, int]:
        """The tests of which others of this delivery are other exports, by their numbers."""
        job = self.entities.job
        return {
            named(job, clean(record_id)).id: named(job, clean(one.test)).id
            for record_id, one in self._delivery.exported.items()
        }

    def _found_in(self) -> list[Row]:
        """The tests that each finding about the whole is about."""
        job, job_id = self.entities.job, self.job_id
        return [
            {"job_id": job_id, "position": position, "test_id": number}
            for position, finding in enumerate(self._delivery.findings)
            for number in (named(job, clean(one)).id for one in finding.tests)
            if number in self._seen
        ]


def _brought(
    rows: Rows,
    assessment: "Assessment",
    held: "Callable[[], Sequence[Held]]",
) -> Batch:
    """The rows of a test; done in the process that judged it, which has a copy of `rows`."""
    return rows.of(assessment)


def _said(about: "About", schema: Schema) -> Iterator[Row]:
    yield {"name": "schema", "value": schema.schema}
    yield {"name": "revision", "value": str(schema.revision)}
    yield {"name": "program", "value": about.program}


def _readings(about: "About") -> Iterator[tuple[str, str, str]]:
    """The disputed readings of the standards, and whether each was on."""
    if (known := about.interpretations) is not None:
        for id_ in known.ids():
            yield "reading", id_, "on" if known.on(id_) else "off"


def _not_taken(schedule: "Schedule | None") -> list[ReadProblem]:
    """Rows of the schedule that could not be taken; no test is lost by them."""
    if schedule is None:
        return []
    return [
        ReadProblem(schedule.name, f"line {fault.line}", fault.message, lost_record=False)
        for fault in schedule.faults
    ]


def _rules(about: "About") -> Iterator[Row]:
    """The rules that may have found something."""
    names = ("name", "title", "why", "fix")
    for entry in about.catalogue.entries:
        known = {name: getattr(entry, name) for name in names}
        yield {"rule": entry.id, "severity": str(entry.severity), **known}
