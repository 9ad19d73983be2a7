"""Which format a source is: the strongest claim wins, a tie is an error that lists the claims."""

import os
from dataclasses import dataclass
from pathlib import PurePath

from sweepbook.errors import SweepbookError
from sweepbook.formats import Claim, Format, Identify, ReadSetting, Strength
from sweepbook.registry import STRICT, Registry, told
from sweepbook.source import Source
from sweepbook.unclaimed import told as told_unclaimed


class UnknownSource(SweepbookError):
    """No format claims the source, or several do with the same strength."""


class UnclaimedSource(UnknownSource):
    """No format and no dialect at hand claims the source."""


@dataclass(frozen=True, slots=True)
class Identified:
    """A format and the claim that won."""

    format: Format
    claim: Claim


def identify(source: Source, registry: Registry, setting: ReadSetting) -> Identified:
    """Ask every format that can read for its claims and return the winner.

    Raises:
        UnclaimedSource: nobody claims the source, or nobody who would read it.
        UnknownSource: the strongest claims tie.
        UnreadableSource: the source cannot be opened.
    """
    claims = claimed(source, registry, setting)
    if not claims:
        what, todo = told_unclaimed(source.head)
        raise UnclaimedSource(f"{source.name}: {what}", todo)
    strongest = max(entry.claim.strength for entry in claims)
    best = [entry for entry in claims if entry.claim.strength is strongest]
    if strongest is Strength.REFUSED:
        raise UnclaimedSource(
            f"{source.name}: {best[0].claim.because}.",
            "`sweepbook formats` lists what can be read.",
        )
    if len(best) > 1:
        listed = "; ".join(f"{_called(entry)} ({entry.claim.because})" for entry in best)
        raise UnknownSource(
            f"{source.name}: several claim this file equally: {listed}.",
            "Choose one with --from, and with --dialect where it reads by dialects.",
        )
    return best[0]


def claimed(source: Source, registry: Registry, setting: ReadSetting) -> list[Identified]:
    """All claims, in the order of the formats' names so that messages are stable.

    Raises:
        UnreadableSource: the source cannot be opened.
    """
    _ = source.head  # a file that cannot be opened is nobody's fault but its own
    claims = []
    for name in sorted(registry.formats):
        entry = registry.formats[name]
        if entry.read is None:
            continue
        if entry.identify is not None:
            claims += _asked(entry, entry.identify, source, registry, setting)
        elif (suffix := PurePath(source.file_name).suffix).lower() in entry.suffixes:
            claim = Claim(Strength.SUFFIX, f"its name ends in {suffix}")
            claims.append(Identified(entry, claim))
    return claims


def _asked(
    entry: Format, asked: Identify, source: Source, registry: Registry, setting: ReadSetting
) -> list[Identified]:
    """One format's claims; none if it crashes, which is noted in `registry.crashes`."""
    try:
        return [Identified(entry, claim) for claim in asked(source, setting)]
    except Exception as error:  # a plugin may raise anything
        if os.environ.get(STRICT) == "1":
            raise
        registry.crashes.append(f"{entry.name}, asked about {source.name}: {told(error)}")
        return []


def _called(entry: Identified) -> str:
    dialect = entry.claim.dialect
    return entry.format.name if dialect is None else f"{entry.format.name} / {dialect.name}"
