"""What a planned link is: its parts, its limit, what was planted in it and what should come out."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from sweepbook_demo.limit_lines import LimitSet
from sweepbook_demo.parts import JACK_6A, WEFT_6A, WEFT_CORD
from sweepbook_demo.plant import CablePiece, Piece
from sweepbook_demo.sheet import Sheet
from sweepbook_demo.structure import Crush

Spoil = Callable[[Sheet], Sheet]


@dataclass(frozen=True, slots=True)
class Planted:
    """One thing planted in a link: a code for programs, words for people."""

    code: str
    words: str


@dataclass(frozen=True, slots=True)
class PlannedLink:
    """One link of the scenario.

    Attributes:
        file: name of the export it goes into.
        seed: decides structure and noise.
        pieces: from near to far.
        limit: what the tester judges by.
        facts: neutral name to text; see `sheet.Sheet`.
        judgement: expected judgement of the stated verdict.
        recomputed: expected verdict from the exported sweeps alone.
        occasion: 0 for a link's first test, 1 for its retest.
        planted: what was planted.
        spoils: applied to the finished sheet in order.
    """

    file: str
    seed: int
    pieces: tuple[Piece, ...]
    limit: LimitSet
    facts: Mapping[str, str]
    judgement: str = "upheld"
    recomputed: str = "pass"
    occasion: int = 0
    planted: tuple[Planted, ...] = ()
    spoils: tuple[Spoil, ...] = field(default=())


def permanent_link(
    length_m: float,
    *,
    celsius: float = 20.0,
    crush: Crush | None = None,
    near_jack_worse_db: float = 0.0,
    far_jack_worse_db: float = 0.0,
) -> tuple[Piece, ...]:
    """Panel jack, cable, outlet jack."""
    near = replace(JACK_6A, worst_by_db=near_jack_worse_db)
    crushes = () if crush is None else (crush,)
    far = replace(JACK_6A, worst_by_db=far_jack_worse_db)
    return near, CablePiece(WEFT_6A, length_m, celsius, crushes), far


def channel(near_cord_m: float, length_m: float, far_cord_m: float) -> tuple[Piece, ...]:
    """Cord, panel jack, cable, outlet jack, cord."""
    return (
        CablePiece(WEFT_CORD, near_cord_m),
        JACK_6A,
        CablePiece(WEFT_6A, length_m),
        JACK_6A,
        CablePiece(WEFT_CORD, far_cord_m),
    )
