"""What a file gives waits until it is known that no key of its tests comes again.

Each test is joined and made a record as it passes, as though its key stood alone, and that waits on
disk. Where a key does come again it is thrown away, and the file is read a second time.
"""

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from itertools import chain
from typing import TYPE_CHECKING

from sweepbook.dialect.keys_twice import Again, Items, Keys
from sweepbook.errors import ReadProblem
from sweepbook.waiting import Waiting

if TYPE_CHECKING:
    from sweepbook.record.model import Record

Made = Iterable["Record | ReadProblem"]
"""What is made of one test, or of a note; to be gone through before the next is asked for."""


def settled(
    begin: Callable[[], Items], make: Callable[[Items, Again], Iterator[Made]], keys: Keys
) -> "Iterator[Record | ReadProblem]":
    """What is made of the tests of a file, where each key may stand once.

    Args:
        begin: begins with the file anew each time.
        make: makes something of each test, by what is known of keys that come again, and in the
            end of what is left; it begins anew each time.
        keys: none of which is known yet.
    """
    if keys.names:
        passing = keys.passing(begin())
        made = make(passing, {})
        with Waiting[Made](1) as waiting:
            behind = _behind(made, waiting, keys, passing)
            if behind is not None:
                for one in chain(waiting, behind):
                    yield from one
                return
    for one in make(begin(), keys.again):
        yield from one


def _behind(
    made: Iterator[Made], waiting: Waiting[Made], keys: Keys, passing: Items
) -> Iterator[Made] | None:
    """Let wait what is made until all keys are known, and give what is made from then on.

    Where nothing more can wait, as on a full disk, the file is read a second time too, and so it is
    where a test cannot be dealt with: what comes before it is given then.

    Returns:
        None where it has to be read again.
    """
    try:
        for one in made:
            if keys.again:
                break
            if keys.whole:
                return chain([one], made)
            waiting.add([*one])
    except Exception:
        deque(passing, 0)
        if not keys.whole:
            raise
        return None
    deque(passing, 0)
    return None if keys.again else made
