"""Where each link stands, of any number of tests: what is over a bound waits on disk."""

from collections.abc import Iterator, Mapping
from contextlib import ExitStack
from typing import TYPE_CHECKING, Self

from sweepbook.retests.collect import OneTest, Place, Retest, link_key, of_links, order, tested
from sweepbook.schedule.reconcile import Reconciliation, reconcile
from sweepbook.sorting import Sorter
from sweepbook_plugins.xlsx.history import Past, by_label, history

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery
    from sweepbook.judging.assessment import Assessment
    from sweepbook.limits.library import Library


class Standing:
    """The tests of a job by link, as far as these tables need them; to be used in a `with`."""

    def __init__(self) -> None:
        self._stack = ExitStack()
        self._tests = self._stack.enter_context(Sorter(_key))

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._stack.close()

    def add(self, assessment: "Assessment") -> None:
        """Take in a test, unless it is of a kind that is not judged."""
        if (one := tested(assessment)) is not None:
            self._tests.add(one)

    def held_against(self, delivery: "Delivery") -> Reconciliation | None:
        """The tests held against the schedule of a delivery; None where it has none."""
        if delivery.schedule is None:
            return None
        attempts = (one.test for one in self._tests)
        return reconcile(delivery.schedule, attempts, delivery.about.limits, delivery.scheme)

    def retests(self, library: "Library", places: Mapping[str, Place]) -> Iterator[Retest]:
        """What has to be tested again, by floor and panel; see `retests` for the arguments."""
        with Sorter(order) as found:
            for one in of_links(self._tests.groups(), library, places):
                found.add(one)
            yield from found

    def history(self) -> Iterator[Past]:
        """Each test of the links that were tested more than once, by label."""
        with Sorter(by_label) as found:
            for link in self._tests.groups():
                if len(link) > 1:
                    found.add(link)
            yield from history(found)


def _key(one: OneTest) -> tuple[str, ...]:
    return link_key(one.test)
