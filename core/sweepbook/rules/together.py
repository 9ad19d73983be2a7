"""All records of a run together, as the rules about the set see them."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, overload

from sweepbook.cached import cached_property
from sweepbook.record.links import Key, Links, own_site
from sweepbook.rules.trace import Trace

if TYPE_CHECKING:
    from sweepbook.copies.suspects import Recall, Suspicions
    from sweepbook.limits.practice import Practice


class WholeSet(Sequence[Trace]):
    """The traces of all records, in their order, those of one link with one key.

    Args:
        traces: of all records.
        practice: figures of common practice.
        recall: reads records again by their ids; None where that cannot be done.
        site: of the job, as its project file has it.
    """

    def __init__(
        self,
        traces: Sequence[Trace],
        practice: "Practice",
        recall: "Recall | None" = None,
        site: str = "",
    ) -> None:
        self.site = site
        self._traces = _of_one_link(traces, site)
        self._practice = practice
        self._recall = recall

    def __len__(self) -> int:
        return len(self._traces)

    def __iter__(self) -> Iterator[Trace]:
        return iter(self._traces)

    @overload
    def __getitem__(self, place: int) -> Trace: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[Trace]: ...
    def __getitem__(self, place: int | slice) -> Trace | Sequence[Trace]:
        return self._traces[place]

    @property
    def practice(self) -> "Practice":
        """Figures of common practice."""
        return self._practice

    @cached_property
    def suspicions(self) -> "Suspicions":
        """Tests that are copies of others; looked for once, when first asked for."""
        from sweepbook.copies.figures import Figures
        from sweepbook.copies.suspects import suspicions

        return suspicions(self._traces, self._recall, Figures.of(self._practice))


def _of_one_link(traces: Sequence[Trace], site: str) -> Sequence[Trace]:
    keys = [trace.label_key for trace in traces]
    links = Links(keys, own_site(keys, site))
    return [
        trace if links.of(key) == key else replace(trace, label_key=links.of(key))
        for trace, key in zip(traces, keys, strict=True)
    ]


def by_label(whole: WholeSet) -> dict[Key, list[Trace]]:
    """The records of each link, see `record.links`, in their order."""
    groups: dict[Key, list[Trace]] = defaultdict(list)
    for trace in whole:
        groups[trace.label_key].append(trace)
    return groups


def ids(traces: Iterable[Trace]) -> tuple[str, ...]:
    """The records of some tests, each once."""
    return tuple(dict.fromkeys(trace.record_id for trace in traces))


def plain(text: str) -> str:
    """A text for comparison, without regard to case and blanks."""
    return "".join(text.casefold().split())
