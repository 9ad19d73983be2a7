"""The entry points of installed packages, with the library that knows them only where some are.

To load that library takes as long as all else that a list of formats needs, and most installations
have no plugin. So the files in which packages name their entry points are looked at first. Where a
package may lie in another way than as files in a folder, the library is asked.
"""

import os
import sys
from collections.abc import Iterable, Iterator
from importlib.machinery import PathFinder
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

_ENDINGS = (".dist-info", ".egg-info")
_EGG = ".egg"
_FILE = "entry_points.txt"


def of(group: str) -> "Iterable[EntryPoint]":
    """The entry points of a group, of all packages that are there."""
    if not may_be(group, sys.path):
        return ()
    from importlib.metadata import entry_points

    return entry_points(group=group)


def may_be(group: str, places: Iterable[str]) -> bool:
    """Whether some package names a group; where this says no, none does.

    Args:
        group: its name.
        places: where packages lie, as `sys.path` has them.
    """
    finders = (of for of in sys.meta_path if hasattr(of, "find_distributions"))
    if any(of is not PathFinder for of in finders):
        return True
    name = f"[{group}]".encode()
    return any(named is None or name in named for place in places for named in _named(place))


def _named(place: str) -> Iterator[bytes | None]:
    """What packages in a place say of their entry points; None for what only the library knows."""
    try:
        with os.scandir(place or ".") as found:
            folders = [of.path for of in found if of.name.lower().endswith(_ENDINGS)]
    except FileNotFoundError:
        return
    except OSError:  # an archive, or one that may not be read
        yield None
        return
    if place.lower().rstrip(os.sep).endswith(_EGG):
        yield None
    for folder in folders:
        try:
            with open(os.path.join(folder, _FILE), "rb") as stream:  # noqa: PTH123, PTH118 - quicker
                yield stream.read()
        except (FileNotFoundError, NotADirectoryError):
            continue
        except OSError:
            yield None
