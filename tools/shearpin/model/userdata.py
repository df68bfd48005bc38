"""The user's own folders on this computer: data that nobody can make again, and a cache that may be deleted at any time."""

from __future__ import annotations

import os
import sys
from pathlib import Path


def data_home() -> Path:
    """Return the folder for this user's data, which never goes into a book; SHEARPIN_DATA names another one."""
    return _folder("DATA", ("APPDATA", "Roaming"), "Application Support", ".local/share")


def cache_home() -> Path:
    """Return the folder for caches of this user; SHEARPIN_CACHE names another one."""
    return _folder("CACHE", ("LOCALAPPDATA", "Local"), "Caches", ".cache")


def _folder(what: str, windows: tuple[str, str], mac: str, other: str) -> Path:
    """Return a folder by the customs of the system; the variables are SHEARPIN_<what> and XDG_<what>_HOME."""
    named = os.environ.get(f"SHEARPIN_{what}")
    if named:
        return Path(named)
    if sys.platform == "win32":
        base = os.environ.get(windows[0]) or str(Path.home() / "AppData" / windows[1])
    elif sys.platform == "darwin":
        base = str(Path.home() / "Library" / mac)
    else:
        base = os.environ.get(f"XDG_{what}_HOME") or str(Path.home() / other)
    return Path(base) / "shearpin"
