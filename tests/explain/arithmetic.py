"""Works out a printed sum: numbers, + - x / ^, log10 and sqrt, and nothing else."""

import ast
import math
import operator
import re
from collections.abc import Callable
from typing import Any

_TWO: dict[type, Callable[[Any, Any], Any]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
_CALLS = {"log10": math.log10, "sqrt": math.sqrt}
SUM = re.compile(r"([-+*/^().0-9x lgoqrst]*[0-9)]) = (-?\+?[0-9.]+) (?:dB|ns|m|ohm|percent)\b")


def worked_out(text: str) -> float:
    """The value of a sum as printed."""
    return float(_value(ast.parse(text.replace(" x ", " * ").replace("^", "**"), mode="eval").body))


def sums(text: str) -> list[tuple[str, float]]:
    """Each printed sum of a text with what it is said to amount to."""
    return [(left.strip(), float(right)) for left, right in SUM.findall(text)]


def _value(node: ast.expr) -> Any:
    match node:
        case ast.Constant(value=int() | float()):
            return node.value
        case ast.BinOp(left, op, right):
            return _TWO[type(op)](_value(left), _value(right))
        case ast.UnaryOp(ast.USub(), operand):
            return -_value(operand)
        case ast.Call(ast.Name(name), [argument]):
            return _CALLS[name](_value(argument))
    raise ValueError(ast.dump(node))
