"""Where each link stands, of any number of tests: what is over a bound waits on disk."""

from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import ExitStack
from operator import itemgetter
from typing import TYPE_CHECKING, Self

from sweepbook.findings import OfTests
from sweepbook.record.identity import normalised
from sweepbook.record.links import Key, Links
from sweepbook.retests.collect import Kept, OneTest, Place, of_links, of_single, order
from sweepbook.schedule.attempt import attempt
from sweepbook.schedule.order import counting, in_order
from sweepbook.schedule.reconcile import Reconciliation, reconcile
from sweepbook.sorting import Sorter
from sweepbook.text import natural_key
from sweepbook_plugins.xlsx.history import EXPORT, NO, NOT_KNOWN, YES, current, history
from sweepbook_plugins.xlsx.layout import Row
from sweepbook_plugins.xlsx.retests import again

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery
    from sweepbook.limits.library import Library

_Sorted = tuple[object, Row]
"""A key and a row."""
_Numbered = tuple[Kept, int]
"""A test, and the how many-eth it is."""
_WORDS = (None, YES, NO, NOT_KNOWN, EXPORT)


class Standing:
    """The tests of a job by link, as far as these tables need them; to be used in a `with`.

    Attributes:
        states: of the links to be tested again; complete once `settle` has been called.
    """

    def __init__(self, site: str = "") -> None:
        """Begin with none.

        Args:
            site: of the job, as its project file has it.
        """
        self._site = normalised(site)
        self._own = ""
        self._known = OfTests({}, {})
        self._stack = ExitStack()
        self._tests: Sorter[_Numbered] = self._stack.enter_context(Sorter(_label))
        self._current = bytearray()
        self._retests: Sorter[_Sorted] = self._stack.enter_context(Sorter(itemgetter(0)))
        self._history: Sorter[_Sorted] = self._stack.enter_context(Sorter(itemgetter(0)))
        self.states: Counter[str] = Counter()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._stack.close()

    def add(self, one: Kept | None) -> None:
        """Take in the next test; None for one of a kind that is not judged."""
        self._current.append(0)
        if one is not None:
            if self._site and self._site in one.trace.link[:-1]:
                self._own = self._site
            self._tests.add((one, len(self._current) - 1))

    def complete(self, known: OfTests) -> None:
        """Take in what is known of single tests only now that all are in."""
        self._known = known

    def _whole(self, numbered: _Numbered) -> _Numbered:
        one, number = numbered
        return one.with_the_rest(self._known), number

    def held_against(self, delivery: "Delivery") -> Reconciliation | None:
        """The tests held against the schedule of a delivery; None where it has none."""
        if delivery.schedule is None:
            return None
        attempts = (attempt(one.trace) for one, _ in map(self._whole, self._tests))
        about = delivery.about
        return reconcile(
            *(delivery.schedule, attempts, about.limits, delivery.scheme),
            *(about.job.site, about.accepts),
        )

    def settle(self, library: "Library", held: Reconciliation | None) -> None:
        """Work out what has to be tested again, and the history of the links.

        Args:
            library: to compare the limits by.
            held: the tests held against a schedule, which tells links apart and knows their places.
        """
        places: Mapping[str, Place] = held.places() if held else {}
        for link in self._links(held.links() if held else {}):
            if len(link) == 1:
                ((one, number),) = link
                self._current[number] = _WORDS.index(YES)
                found = of_single(one, places)
            else:
                tests = [one.whole() for one, _ in link]
                self._tell(tests, [number for _, number in link])
                found = next(of_links([tests], library, places), None)
            if found is not None:
                self.states[found.state] += 1
                self._retests.add((order(found), again(found)))

    def _links(self, known: Mapping[str, Key]) -> Iterator[list[_Numbered]]:
        """The tests of each link, by what is known of them, else as `record.links` has it."""
        for of_label in self._tests.groups():
            links = Links((one.trace.link for one, _ in of_label), self._own)
            found: dict[Key, list[_Numbered]] = {}
            for one in map(self._whole, of_label):
                trace = one[0].trace
                key = known.get(trace.record_id) or links.of(trace.link)
                found.setdefault(key, []).append(one)
            yield from found.values()

    def retests(self) -> Iterator[Row]:
        """The links to be tested again, by floor, room and panel."""
        return map(itemgetter(1), self._retests)

    def history(self) -> Iterator[Row]:
        """Each test of the links that were tested more than once, by label."""
        return map(itemgetter(1), self._history)

    def current(self) -> Iterator[str | None]:
        """Of each test, as they came, whether it speaks for its link; None where none does."""
        return (_WORDS[at] for at in self._current)

    def _tell(self, tests: list[OneTest], numbers: list[int]) -> None:
        """Put the history of a link down, and which of its tests is the current one."""
        ordered, known = in_order([one.test for one in tests])
        count = counting(ordered)
        for test, number in zip(tests, numbers, strict=True):
            word = current(test.test, count, known=known)
            self._current[number] = _WORDS.index(word)
        label = tests[0].test.label
        for row in history(ordered, known=known):
            self._history.add(((natural_key(label), label), row))


def _label(one: _Numbered) -> str:
    """The label for comparison; without one the record id."""
    return one[0].trace.link[-1]
