"""Which disputed readings of the standards are switched on."""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from importlib.resources import files
from pathlib import Path

from sweepbook.cached import cached_property
from sweepbook.errors import SweepbookError
from sweepbook.limits.effects import Exclusion, Relaxation
from sweepbook.limits.in_force import Effects
from sweepbook.limits.model import LimitTable
from sweepbook.limits.readings import Interpretation, reading, touches


@dataclass(frozen=True)
class Interpretations:
    """An immutable set of switches over the catalogue.

    Attributes:
        catalogue: every reading, by id, in the order of the file.
        switched_on: ids that are on.
        fixed: ids that somebody has decided, so that the other way is not tried.
        sha256: digest of the catalogue's file.
    """

    catalogue: Mapping[str, Interpretation]
    switched_on: frozenset[str]
    fixed: frozenset[str]
    sha256: str

    @staticmethod
    def load(path: Path | None = None) -> "Interpretations":
        """The readings, each as its default says.

        Args:
            path: a file of them that was put aside; None for those that come with the program.

        Raises:
            SweepbookError: the file cannot be read, or holds a reading that this program has not.
        """
        if path is None:
            shipped = files("sweepbook_schemas").joinpath("interpretations.json").read_bytes()
            return Interpretations._of(shipped)
        try:
            return Interpretations._of(path.read_bytes())
        except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
            raise SweepbookError(
                f"{path.name} holds no readings of the standards that can be used: {error}.",
                "Restore it from a copy, or use the version of sweepbook that wrote it.",
            ) from error

    @staticmethod
    def _of(raw: bytes) -> "Interpretations":
        entries = [reading(item) for item in json.loads(raw)["interpretations"]]
        return Interpretations(
            catalogue={entry.id: entry for entry in entries},
            switched_on=frozenset(entry.id for entry in entries if entry.default),
            fixed=frozenset(),
            sha256=hashlib.sha256(raw).hexdigest(),
        )

    def ids(self) -> tuple[str, ...]:
        """Every id, in the order of the file."""
        return tuple(self.catalogue)

    def entry(self, id_: str) -> Interpretation:
        """One reading.

        Raises:
            SweepbookError: there is none of this id.
        """
        if id_ not in self.catalogue:
            raise SweepbookError(
                f"There is no interpretation {id_!r}.",
                f"Use one of: {', '.join(self.catalogue)}.",
            )
        return self.catalogue[id_]

    def on(self, id_: str) -> bool:
        """Whether a reading is on.

        Raises:
            SweepbookError: there is none of this id.
        """
        return self.entry(id_).id in self.switched_on

    def switched(self, on: Iterable[str], fixed: Iterable[str]) -> "Interpretations":
        """The same with exactly these readings on, and these decided.

        Raises:
            SweepbookError: there is none of an id.
        """
        switches = frozenset(self.entry(id_).id for id_ in on)
        decided = frozenset(self.entry(id_).id for id_ in fixed)
        return replace(self, switched_on=switches, fixed=decided)

    def with_(self, id_: str) -> "Interpretations":
        """The same with a reading on and the others of its topic off.

        Raises:
            SweepbookError: there is none of this id.
        """
        rivals = self._of_topic(self.entry(id_).topic)
        return replace(self, switched_on=(self.switched_on - rivals) | {id_})

    def without(self, id_: str) -> "Interpretations":
        """The same with a reading off.

        Raises:
            SweepbookError: there is none of this id.
        """
        return replace(self, switched_on=self.switched_on - {self.entry(id_).id})

    def fix(self, id_or_topic: str, on: bool) -> "Interpretations":
        """The same with a reading decided, so that the other way is no longer tried.

        A reading that is decided on decides its rivals off. A topic can be decided off as a whole.

        Args:
            id_or_topic: id of a reading, or a topic with `on` False.
            on: which way.

        Raises:
            SweepbookError: there is no such id or topic, or a topic is to be on.
        """
        rivals = self._of_topic(id_or_topic)
        if rivals and id_or_topic not in self.catalogue:
            if on:
                raise SweepbookError(
                    f"{id_or_topic!r} can be read in several ways.",
                    f"Say which: {', '.join(sorted(rivals))}.",
                )
            return replace(self, switched_on=self.switched_on - rivals, fixed=self.fixed | rivals)
        decided = {id_or_topic} | (self._of_topic(self.entry(id_or_topic).topic) if on else set())
        switched = self.with_(id_or_topic) if on else self.without(id_or_topic)
        return replace(switched, fixed=self.fixed | decided)

    def alternatives(self, table: LimitTable) -> Iterator[tuple[str, "Interpretations"]]:
        """Each undecided reading that can matter for the table, switched the other way.

        Args:
            table: the limit table judged under.

        Yields:
            The id and the switches with that one changed.
        """
        if table not in self._changed:
            self._changed[table] = [
                (id_, self.without(id_) if self.on(id_) else self.with_(id_))
                for id_, entry in self.catalogue.items()
                if id_ not in self.fixed and touches(entry, table)
            ]
        yield from self._changed[table]

    @cached_property
    def _changed(self) -> dict[LimitTable, list[tuple[str, "Interpretations"]]]:
        """The alternatives by table, filled as they are asked for: all tests of a job ask."""
        return {}

    def exclusions(self, table: LimitTable, parameter: str) -> tuple[Exclusion, ...]:
        """What leaves points of a parameter out, as far as it is switched on."""
        return self._effects(table).exclusions.get(parameter, ())

    def relaxations(self, table: LimitTable, parameter: str) -> tuple[Relaxation, ...]:
        """What relaxes the limit of a parameter, as far as it is switched on."""
        return self._effects(table).relaxations.get(parameter, ())

    def companions(self, table: LimitTable) -> frozenset[str]:
        """The parameters that the conditions of what is switched on are about."""
        return self._effects(table).companions

    def limit_decimals(self, table: LimitTable) -> int | None:
        """Decimals that limits in dB are rounded to, or None where they are not."""
        return self._effects(table).limit_decimals

    def measured_decimals(self, table: LimitTable) -> int | None:
        """Decimals that values in dB are rounded to before they are compared, or None."""
        return self._effects(table).measured_decimals

    def _effects(self, table: LimitTable) -> Effects:
        found = self._by_table.get(table)
        if found is None:
            on = [entry for entry in self._on_in_order if table.family in entry.families]
            found = self._by_table[table] = Effects.of(on, table)
        return found

    @cached_property
    def _by_table(self) -> dict[LimitTable, Effects]:
        """What the readings that are on do to each table, filled as it is asked for likewise."""
        return {}

    @cached_property
    def _on_in_order(self) -> tuple[Interpretation, ...]:
        return tuple(e for e in self.catalogue.values() if e.id in self.switched_on)

    def _of_topic(self, topic: str) -> frozenset[str]:
        return frozenset(e.id for e in self.catalogue.values() if e.topic == topic)
