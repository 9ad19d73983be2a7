"""All records of a run together, as the rules about the set see them."""

from array import array
from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, overload

import numpy as np
from numpy.typing import NDArray

from sweepbook.cached import cached_property
from sweepbook.record.links import Links, own_site
from sweepbook.rules.trace import Trace

if TYPE_CHECKING:
    from sweepbook.copies.suspects import Recall, Suspicions
    from sweepbook.limits.practice import Practice
    from sweepbook.rules.traces import Traces

Places = NDArray[np.int64]

MOST_HELD = 1024
"""Traces that are read together, from the first on, so that the disk is gone through few times."""


class WholeSet(Sequence[Trace]):
    """The traces of all records, in their order, those of one link with one key.

    They lie on disk, so a rule walks over them, and holds of them what it needs: places, or those
    few that it tells of.

    Args:
        traces: of all records.
        practice: figures of common practice.
        recall: reads records again by their ids; None where that cannot be done.
        site: of the job, as its project file has it.
    """

    def __init__(
        self,
        traces: "Traces",
        practice: "Practice",
        recall: "Recall | None" = None,
        site: str = "",
    ) -> None:
        self.site = site
        self._traces = traces
        self._links = Links(
            (trace.label_key for trace in traces),
            own_site((trace.label_key for trace in traces), site),
        )
        self._practice = practice
        self._recall = recall

    def __len__(self) -> int:
        return len(self._traces)

    def __iter__(self) -> Iterator[Trace]:
        return map(self._of_its_link, self._traces)

    @overload
    def __getitem__(self, place: int) -> Trace: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[Trace]: ...
    def __getitem__(self, place: int | slice) -> Trace | Sequence[Trace]:
        if isinstance(place, slice):
            return [self._of_its_link(one) for one in self._traces[place]]
        return self._of_its_link(self._traces[place])

    def marks(self) -> Iterator[Sequence[bytes]]:
        """The marks of each record, see `copies.marks`, many records at a time."""
        return self._traces.marks()

    @property
    def practice(self) -> "Practice":
        """Figures of common practice."""
        return self._practice

    @cached_property
    def suspicions(self) -> "Suspicions":
        """Tests that are copies of others; looked for once, when first asked for."""
        from sweepbook.copies.figures import Figures
        from sweepbook.copies.suspects import suspicions

        fingerprints = self._traces.fingerprints()
        return suspicions(self, fingerprints, self._recall, Figures.of(self._practice))

    def _of_its_link(self, trace: Trace) -> Trace:
        key = self._links.of(trace.label_key)
        return trace if key == trace.label_key else trace._replace(label_key=key)


Keys = Callable[[int, Trace], Iterable[Hashable]]
"""By what a record, at a place of the set, is put together with others; none for one left out."""


def groups(
    whole: Sequence[Trace], keys: Keys, least: int = 2
) -> Iterator[tuple[Hashable, list[Trace]]]:
    """Yield each key with its traces, in their order, the keys as each first comes up.

    Some thousand traces are held at a time, or all those of one key.

    Args:
        whole: all records.
        keys: of each, the same whenever asked.
        least: traces that a key must have.
    """
    hashes, places = _hashes(whole, keys)
    order = np.argsort(hashes, kind="stable")
    hashes, places = hashes[order], places[order]
    changes = np.flatnonzero(hashes[1:] != hashes[:-1]) + 1
    begins = np.concatenate([[0], changes])[: hashes.size]
    ends = np.concatenate([changes, [hashes.size]])[: hashes.size]
    many = ends - begins >= least
    begins, ends = begins[many], ends[many]
    first = np.argsort(order[begins], kind="stable")
    runs = list(zip(begins[first].tolist(), ends[first].tolist(), strict=True))
    for some in _batches(runs):
        wanted = {place for begin, end in some for place in places[begin:end].tolist()}
        held = {place: whole[place] for place in sorted(wanted)}
        for begin, end in some:
            alike: dict[Hashable, dict[int, Trace]] = defaultdict(dict)
            for place in places[begin:end].tolist():
                for key in keys(place, held[place]):
                    if hash(key) == hashes[begin]:
                        alike[key][place] = held[place]
            for key, found in alike.items():
                if len(found) >= least:
                    yield key, list(found.values())


def _batches(runs: Iterable[tuple[int, int]]) -> Iterator[list[tuple[int, int]]]:
    """Runs, given by begin and end, as many together as are read at a time."""
    batch: list[tuple[int, int]] = []
    count = 0
    for begin, end in runs:
        count += end - begin
        if batch and count > MOST_HELD:
            yield batch
            batch, count = [], end - begin
        batch.append((begin, end))
    yield batch


def links(whole: Sequence[Trace], least: int = 1) -> Iterator[list[Trace]]:
    """The records of each link that has so many, see `record.links`, in their order."""
    return (traces for _, traces in groups(whole, lambda _, trace: (trace.label_key,), least))


def _hashes(whole: Sequence[Trace], keys: Keys) -> tuple[Places, Places]:
    """The hash of each key, and the place of its record: int64[k]."""
    hashes, places = array("q"), array("q")
    for place, trace in enumerate(whole):
        for key in keys(place, trace):
            hashes.append(hash(key))
            places.append(place)
    return np.frombuffer(hashes, np.int64), np.frombuffer(places, np.int64)


def ids(traces: Iterable[Trace]) -> tuple[str, ...]:
    """The records of some tests, each once."""
    return tuple(dict.fromkeys(trace.record_id for trace in traces))


def plain(text: str) -> str:
    """A text for comparison, without regard to case and blanks."""
    return "".join(text.casefold().split())
