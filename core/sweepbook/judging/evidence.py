"""What a record brings before any limit is looked at: curves, figures, and doubts about them."""

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sweepbook.judging import far_end
from sweepbook.judging.assessment import PairOrder
from sweepbook.judging.clipped import inside_range, unread
from sweepbook.judging.compose import recompute
from sweepbook.judging.curves import Curves, without_bounds
from sweepbook.judging.disorder import disordered
from sweepbook.judging.doubt_words import path_of
from sweepbook.judging.doubts import doubts
from sweepbook.judging.figures import Figure, figures
from sweepbook.judging.held_apart import held_apart
from sweepbook.judging.lone import lone_readings
from sweepbook.judging.measured import measured
from sweepbook.judging.pair_order import order_of
from sweepbook.judging.physics import Bounds
from sweepbook.judging.placeholders import placeholders
from sweepbook.judging.screen import is_screened
from sweepbook.judging.settle import Settled, disagreements, settle
from sweepbook.judging.working import Disagreement, Doubt
from sweepbook.limits.model import LimitTable


@dataclass(frozen=True, slots=True, eq=False)
class Evidence:
    """What a record brings, before any limit is looked at.

    Attributes:
        document: of the record.
        measured: curves by parameter as the record has them.
        recomputed: derived curves made from raw ones.
        settled: the curves that are judged.
        disagreements: exported derived curves that the raw ones do not yield.
        doubts: figures that no link can have, or hardly.
        figures: single figures by parameter.
        screened: whether the cabling is screened, None where not known.
        unread: sweeps that cannot be used, by JSON path.
        pair_order: which order of its pairs exported ACR-F goes with.
    """

    document: Mapping[str, Any]
    measured: Mapping[str, Curves]
    recomputed: Mapping[str, Curves]
    settled: Mapping[str, Settled]
    disagreements: tuple[Disagreement, ...]
    doubts: tuple[Doubt, ...]
    figures: Mapping[str, Sequence[Figure]]
    screened: bool | None
    unread: Mapping[str, str]
    pair_order: PairOrder

    def companions(self, wanted: Container[str]) -> dict[str, Curves]:
        """The curves that conditions of interpretations are about, by parameter.

        They are those that are judged. Of far-end crosstalk that is not there, they are what its
        ratio to the insertion loss tells.

        Args:
            wanted: parameters; others may be left out.
        """
        return self._companions(wanted, self._judged())

    def doubted_companions(self, wanted: Container[str]) -> dict[str, Curves] | None:
        """The same, a doubted insertion loss without upper bound; None where none is doubted.

        It leaves nothing out for certain then, and tells no far-end crosstalk. One that proves
        nothing has no lower bound either, so that nothing is certain to count because of it.
        """
        found = self._judged()
        loss = found.get("insertion_loss")
        if loss is None:
            return None
        doubted = {doubt.path for doubt in self.doubts}
        nothing = {named for doubt in self.doubts for named in doubt.discredits}
        rows = range(len(loss.keys))
        every = ("insertion_loss", ()) in nothing
        opened = [row for row in rows if every or path_of(loss, row) in doubted]
        if not opened:
            return None
        empty = [
            row for row in opened if every or ("insertion_loss", loss.keys[row].pairs) in nothing
        ]
        opened_loss = without_bounds(loss, opened, empty)
        return self._companions(wanted, found | {"insertion_loss": opened_loss}, opened)

    def _judged(self) -> dict[str, Curves]:
        return {name: settled.curves for name, settled in self.settled.items()}

    def _companions(
        self, wanted: Container[str], judged: dict[str, Curves], doubted: Container[int] = ()
    ) -> dict[str, Curves]:
        told = {
            name: curves
            for name in far_end.RATIOS
            if name in wanted and (curves := far_end.told(name, judged, doubted)) is not None
        }
        return judged | told


def gather(document: Mapping[str, Any], bounds: Bounds, table: LimitTable | None) -> Evidence:
    """Read the curves and figures of a record, recompute what can be, and doubt what cannot be."""
    curves, unusable = measured(document, bounds.next_orders_db, bounds.step_values)
    curves, empty = placeholders(curves, bounds, table)
    curves, lone = lone_readings(curves, table)
    read = curves
    curves, clipped = inside_range(read)
    made = recompute(curves)
    single = figures(document)
    order = order_of(curves, bounds, table)
    return Evidence(
        document,
        curves,
        made,
        settle(curves, made),
        disagreements(curves, made),
        (
            *disordered(document),
            *empty,
            *lone,
            *clipped,
            *unread(read, table),
            *held_apart(curves, table),
            *doubts(curves, single, bounds, table),
            *order.doubts,
        ),
        single,
        is_screened(document),
        unusable,
        order.shown,
    )
