"""The record in memory."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Self

import numpy as np

from sweepbook.record import identity
from sweepbook.record.arrays import with_arrays
from sweepbook.record.grids import frequency_mhz as frequency_mhz
from sweepbook.record.schema import NAME

if TYPE_CHECKING:
    from sweepbook.corrections.model import Correction, Unfit

Part = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Corrected:
    """What became of a record by corrections.

    Attributes:
        evidence: the record as it was read.
        applied: the corrections that were applied, in order.
        unfit: those that were not.
    """

    evidence: "Record"
    applied: "tuple[Correction, ...]"
    unfit: "tuple[Unfit, ...]"

    @property
    def taken_back(self) -> frozenset[str]:
        """Fields that were corrected and say again what the evidence says."""
        told = [one for one in self.applied if one.old != one.new]  # what is left out is the same
        first = {one.field: one.old for one in reversed(told)}
        last = {one.field: one.new for one in told}
        return frozenset(field for field, new in last.items() if new == first[field])


@dataclass(frozen=True, slots=True)
class OneName:
    """One name for a spelling.

    Attributes:
        field: path of the field in the record.
        said: how the record, as corrected, spells it.
        name: what goes for that.
    """

    field: str
    said: str
    name: str

    @property
    def of(self) -> str:
        """What it is a spelling of: "building", "cable part", "limit"."""
        *_, holder, what = self.field.split(".")
        return f"cable {what}" if holder == "cable" else what


@dataclass(frozen=True, slots=True)
class Spelled:
    """What became of a record by spellings that a job brings together.

    Attributes:
        record: the record before, corrected or not.
        names: what was brought together in it.
    """

    record: "Record"
    names: tuple[OneName, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Record:
    """One test of one link: evidence, never changed.

    Make one with `build` or `of`. Two records are equal when they say the same, in whatever order.

    Attributes:
        document: as record-1.md describes it; number arrays are float64[n]. Read only.
        corrected: what corrections made of it; None where there are none. The document is then a
            view of the evidence, which keeps its identity and lies beside it, unchanged.
        spelled: what the spellings of a job made of it; None where they changed nothing. The
            document is then a view likewise.
        proven_id: the identity that follows from the bytes it was read from; "" where that was not
            worked out with the reading.
        skeleton: the document as its text was read, with a short list in the place of each array,
            where the reading left nothing to ask of its numbers but what the schema does; else
            None.
    """

    document: dict[str, Any]
    corrected: Corrected | None = None
    proven_id: str = ""
    spelled: Spelled | None = None
    skeleton: dict[str, Any] | None = None

    @classmethod
    def build(
        cls,
        *,
        link: Part,
        test: Part,
        results: Part,
        origin: Sequence[Part],
        stated: Part | None = None,
        extra: Part | None = None,
        attachments: Sequence[Part] | None = None,
        extensions: Part | None = None,
        resolved: Part | None = None,
        provenance: Part | None = None,
        kind: str = "balanced-link",
    ) -> Self:
        """Put a record together and work out its identity. What it says is not checked here.

        A part that is empty or None is left out, save for the first three.

        Args:
            link: what was tested.
            test: how, when and with what.
            results: what was measured.
            origin: where it was found, one entry a file.
            stated: what the source makes of the results.
            extra: what else the source says, text by the source's own names.
            attachments: files that belong to it.
            extensions: what others define, by reverse domain name.
            resolved: what the reader made of the source's names.
            provenance: by what the source was read.
            kind: which body it is.

        Raises:
            NoCanonicalText: a value is not of JSON: NaN, infinity, a lone surrogate.
        """
        body = {
            "link": link,
            "test": test,
            "results": results,
            "stated": stated,
            "extra": extra,
            "attachments": attachments,
            "extensions": extensions,
            "resolved": resolved,
            "provenance": provenance,
        }
        may_be_empty = ("link", "test", "results")
        there = {name: part for name, part in body.items() if part or name in may_be_empty}
        document = with_arrays({"kind": kind, **there})
        head = {"schema": NAME, "kind": kind, "record_id": identity.record_id(document)}
        return cls({**head, "origin": [dict(one) for one in origin], **document})

    @classmethod
    def of(cls, document: Part) -> Self:
        """Take a whole document as it is, lists of numbers turned to arrays; nothing is checked."""
        return cls(with_arrays(document))

    @property
    def record_id(self) -> str:
        """Its identity, as the document has it."""
        return str(self.document.get("record_id", ""))

    @property
    def kind(self) -> str:
        """Which body it has."""
        return str(self.document.get("kind", ""))

    @property
    def label(self) -> str:
        """The link's label as the source has it; "" where the record has none."""
        link = self.document.get("link")
        label = link.get("label") if isinstance(link, dict) else None
        return label if isinstance(label, str) else ""

    @property
    def evidence(self) -> "Record":
        """The record as it was read: itself, where nobody corrected or renamed anything."""
        if self.corrected is not None:
            return self.corrected.evidence
        return self.spelled.record if self.spelled else self

    def with_origin(self, origin: Sequence[Part]) -> Self:
        """The same record found in other places; its identity stays."""
        return self._with("origin", [dict(one) for one in origin])

    def with_resolved(self, resolved: Part) -> Self:
        """The same record with other names resolved; its identity stays."""
        return self._with("resolved", dict(resolved))

    def without_resolved_limit(self) -> Self:
        """The same record of which nobody has said yet which table its limit means."""
        document = dict(self.document)
        resolved = document.pop("resolved", {})
        if left := {name: part for name, part in resolved.items() if name != "limit"}:
            document["resolved"] = left
        return type(self)(document)

    def with_provenance(self, provenance: Part) -> Self:
        """The same record made in another way; its identity stays."""
        return self._with("provenance", dict(provenance))

    def _with(self, name: str, value: object) -> Self:
        return type(self)({**self.document, name: value})

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Record):
            return NotImplemented
        return _same(self.document, other.document)

    def __hash__(self) -> int:
        return hash(self.record_id)


def _same(one: Any, two: Any) -> bool:  # noqa: ANN401 - any JSON value
    """Whether two JSON values say the same; true and 1 do not."""
    if isinstance(one, np.ndarray) or isinstance(two, np.ndarray):
        return isinstance(one, np.ndarray) and np.array_equal(one, two)
    if isinstance(one, dict) and isinstance(two, dict):
        return one.keys() == two.keys() and all(_same(one[name], two[name]) for name in one)
    if isinstance(one, list | tuple) and isinstance(two, list | tuple):
        return len(one) == len(two) and all(map(_same, one, two))
    return bool(one == two) and isinstance(one, bool) == isinstance(two, bool)
