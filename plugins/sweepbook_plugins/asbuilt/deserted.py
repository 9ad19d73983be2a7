"""Links that tests were of before, and are of no longer: what nothing speaks for any more goes."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import sqlalchemy as sa

_UNTESTED = "id = :link AND NOT EXISTS (SELECT 1 FROM test WHERE test.link_id = :link)"
_TAKEN_OUT = (
    """
    DELETE FROM cable
    WHERE link_id = :link AND NOT EXISTS (SELECT 1 FROM test WHERE test.cable_id = cable.id)
    """,
    f"""
    DELETE FROM end_said
    WHERE link_id = :link AND EXISTS (SELECT 1 FROM link WHERE {_UNTESTED})
    """,
    f"DELETE FROM link WHERE {_UNTESTED}",
)


def take_out(connection: "sa.Connection", deserted: Iterable[int]) -> None:
    """Take out the links that no test is of any longer, and the cables that none states.

    A link is there because a test is of it. What a test was of before stands in `correction`, and
    a link that was ordered and has no test stands in `scheduled`: nothing is lost.

    Args:
        connection: within the transaction that wrote tests, schedule and ends.
        deserted: links that tests of this delivery were of before.
    """
    import sqlalchemy as sa

    numbers = [{"link": number} for number in sorted(deserted)]
    for statement in _TAKEN_OUT if numbers else ():
        connection.execute(sa.text(statement), numbers)
