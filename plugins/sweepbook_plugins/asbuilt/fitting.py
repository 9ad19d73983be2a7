"""Values of the as-built database as the columns of an owner's table take them."""

from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from sweepbook_plugins.asbuilt.values import UNKNOWN_OFFSET

if TYPE_CHECKING:
    import sqlalchemy as sa

Value = Any
"""Text, a number, a flag, a day or a time."""


class Misfit(ValueError):
    """A value that a column does not take; its text says why."""


def fitted(type_: "sa.types.TypeEngine[Any]", words: Mapping[str, Any]) -> Callable[[Value], Value]:
    """What makes a value into one that a column of this type takes, or raises `Misfit`.

    Args:
        type_: of the owner's column, as the database tells it; one that is not known takes all.
        words: the owner's words by ours; empty for ours as they are.
    """
    into = _taker(type_)

    def fit(value: Value) -> Value:
        if value is None:
            return None
        if words:
            if str(value) not in words:
                raise Misfit(f"{value!r} is not among the words of the mapping")
            value = words[str(value)]
        return into(value)

    return fit


def _taker(type_: "sa.types.TypeEngine[Any]") -> Callable[[Value], Value]:
    import sqlalchemy as sa

    takers: list[tuple[type[Any], Callable[[Any, Value], Value]]] = [
        (sa.Enum, _word),
        (sa.Boolean, _flag),
        (sa.DateTime, _time),
        (sa.Date, _day),
        (sa.String, _text),
        (sa.Integer, _whole),
        (sa.Float, _number),
        (sa.Numeric, _decimal),
        (sa.types.NullType, lambda _, value: value),
    ]
    for kind, taker in takers:
        if isinstance(type_, kind):
            return lambda value: taker(type_, value)
    raise Misfit(f"nothing here is of the type {type_}")


def _text(type_: Any, value: Value) -> str:  # noqa: ANN401
    if not isinstance(value, str):
        raise Misfit(f"it takes text, and {value!r} is a number")
    if type_.length is not None and len(value) > type_.length:
        raise Misfit(f"it takes {type_.length} characters, and {value!r} has {len(value)}")
    return value


def _word(type_: Any, value: Value) -> str:  # noqa: ANN401
    if value not in type_.enums:
        raise Misfit(f"it takes {', '.join(type_.enums)}, and not {value!r}")
    return str(value)


def _flag(_: object, value: Value) -> bool:
    if isinstance(value, bool) or (isinstance(value, int) and value in (0, 1)):
        return bool(value)
    raise Misfit(f"it takes true or false, and not {value!r}")


def _whole(type_: Any, value: Value) -> int:  # noqa: ANN401
    import sqlalchemy as sa

    if isinstance(value, bool) or not isinstance(value, int):
        raise Misfit(f"it takes whole numbers, and not {value!r}")
    bits = 63 if isinstance(type_, sa.BigInteger) else 15
    if not isinstance(type_, sa.BigInteger | sa.SmallInteger):
        bits = 31
    if not -(1 << bits) <= value < 1 << bits:
        raise Misfit(f"it takes whole numbers of {bits + 1} bits, and {value} is beyond")
    return value


def _number(_: object, value: Value) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Misfit(f"it takes numbers, and not {value!r}")
    return float(value)


def _decimal(type_: Any, value: Value) -> float:  # noqa: ANN401
    """A number with the digits of the column, to which a server would round it as well."""
    number = _number(type_, value)
    if type_.precision is None:
        return number
    number, digits = round(number, type_.scale or 0), type_.precision - (type_.scale or 0)
    if not abs(number) < 10**digits:
        raise Misfit(f"it takes {digits} digits before the decimal mark, and {value} has more")
    return number


def _day(_: object, value: Value) -> date:
    """The day by the clock on the wall."""
    try:
        return datetime.fromisoformat(value).date()
    except (TypeError, ValueError):
        raise Misfit(f"it takes days, and not {value!r}") from None


def _time(type_: Any, value: Value) -> datetime:  # noqa: ANN401
    """A time with its offset where the column keeps one, else by the clock on the wall."""
    try:
        moment = datetime.fromisoformat(value)
    except (TypeError, ValueError):
        raise Misfit(f"it takes times, and not {value!r}") from None
    if not type_.timezone:
        return moment.replace(tzinfo=None)
    if moment.tzinfo is None or str(value).endswith(UNKNOWN_OFFSET):
        raise Misfit(f"it takes times with a zone, and the offset of {value} is not known")
    return moment
