"""Figures as the page shows them."""

from sweepbook.judging import phrases


def plain(value: float | None) -> str:
    """A value or limit with two decimals, more where two would show 0; "" for none."""
    return "" if value is None else phrases.figure(value)


def signed(value: float | None) -> str:
    """A margin with its sign; "" for none."""
    if value is None:
        return ""
    text = phrases.figure(value)
    return text if text.startswith("-") else f"+{text}"


def megahertz(value: float | None) -> str:
    """A frequency without its unit, as exact as the judgement has it; "" for none."""
    return "" if value is None else phrases.frequency(value).removesuffix(" MHz")


def unit(name: str) -> str:
    """A unit as people write it; the faults of a wire map have none."""
    return {"percent": "%", "faults": "faults"}.get(name, name)


def counted(count: int, word: str) -> str:
    """A count with its word: "1 test", "2 tests", with commas from a thousand on."""
    return f"{count:,} {word}" if count == 1 else f"{count:,} {word}s"
