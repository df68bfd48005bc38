"""What scripts of the pages say, in French: nothing yet."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

WORDS: Final[MappingProxyType[str, str]] = MappingProxyType({})
