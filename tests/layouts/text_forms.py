"""Names, numbers and times as an export writes them."""

import re
import unicodedata
from datetime import datetime

_SPELT = {"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss"}
_OTHER = {"ł": "l", "Ł": "L", "ø": "o", "æ": "ae", "å": "a"}
SCALE = {"MHz": 3, "kHz": 0, "Hz": -3}
"""Places by which a whole number of kHz is shifted."""


def folded(text: str, tongue: str) -> str:
    """A text without accents, as the language spells it then."""
    spelt = _SPELT if tongue == "de" else {}
    text = "".join((spelt | _OTHER).get(char, char) for char in text)
    return "".join(c for c in unicodedata.normalize("NFD", text) if not unicodedata.combining(c))


def name(text: str, case: str) -> str:
    """A name of an element or attribute out of words."""
    words = [
        word for word in re.split(r"[\W_]+", text.translate({ord("°"): "o", ord("º"): "o"})) if word
    ]
    if case in ("snake", "kebab"):
        return ("_" if case == "snake" else "-").join(word.lower() for word in words)
    if case == "lower":
        return "".join(word.lower() for word in words)
    parts = [word if word.isupper() and len(word) > 1 else word.capitalize() for word in words]
    if case == "camel" and not parts[0].isupper():
        parts[0] = parts[0].lower()
    return "".join(parts)


def shifted(whole: int, places: int, mark: str = ".") -> str:
    """A whole number with its decimal mark moved to the left, or by zeros to the right."""
    if places <= 0:
        return f"{whole}{'0' * -places}"
    digits = str(abs(whole)).rjust(places + 1, "0")
    return f"{'-' if whole < 0 else ''}{digits[:-places]}{mark}{digits[-places:]}"


def decimal(value: float, places: int, mark: str) -> str:
    """A number with so many places."""
    return f"{value:.{places}f}".replace(".", mark)


def frequency(khz: int, unit: str, mark: str) -> str:
    """A frequency in a unit; of MHz with two places."""
    return shifted(khz // 10, 2, mark) if unit == "MHz" else shifted(khz, SCALE[unit])


def local_day(time: datetime, mark: str) -> str:
    """Day, month and year."""
    return f"{time:%d}{mark}{time:%m}{mark}{time:%Y}"


def zone(time: datetime) -> str:
    """The offset of a time in words."""
    offset = f"{time:%z}"
    return f"UTC{offset[:3]}:{offset[3:]}"


def pair_text(pair: str, called: str, pins: str, colours: dict[str, str]) -> str:
    """What a pair is called: by contacts, by number under T568B, by colour."""
    if called == "numbers":
        return {"4-5": "1", "1-2": "2", "3-6": "3", "7-8": "4"}[pair]
    return colours[pair] if called == "colours" else pair.replace("-", pins)
