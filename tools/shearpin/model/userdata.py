"""Where a user's own data lies: what nobody can make again, and what never goes into a book."""

from __future__ import annotations

import os
import sys
from pathlib import Path


def data_home() -> Path:
    """Return the folder for this user's data, which must not be lost as a cache may; SHEARPIN_DATA names another one."""
    named = os.environ.get("SHEARPIN_DATA")
    if named:
        return Path(named)
    if sys.platform == "win32":
        base = os.environ.get("APPDATA") or str(Path.home() / "AppData" / "Roaming")
    elif sys.platform == "darwin":
        base = str(Path.home() / "Library" / "Application Support")
    else:
        base = os.environ.get("XDG_DATA_HOME") or str(Path.home() / ".local" / "share")
    return Path(base) / "shearpin"
