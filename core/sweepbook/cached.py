"""`cached_property` as Python 3.12 has it: that of 3.11 takes a lock each time."""

import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING or sys.version_info >= (3, 12):
    from functools import cached_property as cached_property
else:

    class cached_property:
        """An attribute that is worked out when it is first asked for."""

        def __init__(self, make: Callable[[Any], Any]) -> None:
            self.make, self.__doc__ = make, make.__doc__

        def __set_name__(self, _owner: type, name: str) -> None:
            self.name = name

        def __get__(self, instance: object, _owner: type | None = None) -> Any:  # noqa: ANN401
            if instance is None:
                return self
            made = instance.__dict__[self.name] = self.make(instance)
            return made
