"""Where a figure comes from, in the words of a page."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from shearpin.model.fields import Basis

BASIS_WORDS: Final[Mapping[Basis, str]] = MappingProxyType(
    {
        Basis.MAKER: "maker’s manual",
        Basis.STANDARD: "published standard",
        Basis.HANDBOOK: "published table",
        Basis.MEASURED: "measured in the workshop",
        Basis.COMMON_PRACTICE: "common practice, no source",
        Basis.DEMO: "invented figure",
    }
)
