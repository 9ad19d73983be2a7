"""The one curve that a person asks for first."""

from collections.abc import Iterable

from sweepbook.judging.assessment import Margin


def worst_margin(margins: Iterable[Margin]) -> Margin | None:
    """The required curve with the smallest margin in dB; any curve where none is required.

    Returns:
        None where no curve in dB was evaluated.
    """
    known = [
        m for m in margins if m.worst_margin_db is not None and m.parameter != "propagation_delay"
    ]
    required = [margin for margin in known if margin.obligation == "required"]
    return min(required or known, key=lambda margin: margin.worst_margin_db or 0.0, default=None)
