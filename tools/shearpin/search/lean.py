"""Imports Whoosh without what it imports and a search never calls: half of the time of a cold search."""

from __future__ import annotations

import functools
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from types import ModuleType

# `whoosh.compat` takes this one function from urllib.request, with the mail and network modules behind it, and nothing
# in Whoosh calls it. The package cached_property brings asyncio along; the standard library has the same decorator.
_STAND_INS: dict[str, dict[str, object]] = {
    "urllib.request": {"urlretrieve": None},
    "cached_property": {"cached_property": functools.cached_property},
}


@contextmanager
def lean_imports() -> Iterator[None]:
    """Let the imports within find stand-ins for modules that are not loaded; afterwards all is as it was."""
    placed: dict[str, ModuleType] = {}
    for name, attributes in _STAND_INS.items():
        if name not in sys.modules:
            placed[name] = sys.modules[name] = ModuleType(name)
            for attribute, value in attributes.items():
                setattr(placed[name], attribute, value)
    try:
        yield
    finally:
        for name, module in placed.items():
            if sys.modules.get(name) is module:
                del sys.modules[name]
