"""Owns plain words for what the operating system or pip refuses: full disk, read-only folder, no network."""

from __future__ import annotations

import errno
import shutil
from pathlib import Path

FULL = "The disk is full: {folder} needs about 300 MB. Free some space and run the same command again."
READ_ONLY = (
    "Nothing can be written in {folder}: it is read-only, belongs to another user, or is in use.\n"
    "Close what is running from it, or copy the whole folder to a place of your own and run it there."
)
NO_NETWORK = (
    "The packages could not be fetched: no package index answered.\n"
    "Shearpin needs a network once, to set itself up; after that it works without one.\n"
    "Connect this computer (or ask for its proxy settings) and run the same command again."
)
WRONG_PYTHON = (
    "One of the packages that Shearpin needs does not run on this version of Python.\n"
    "Install another version (see README.md for those that do) and run the command with it."
)
PIP_FAILED = "pip could not install Shearpin; its last words are below."

LEAST_FREE_BYTES = 20_000_000  # less than any stage needs
FULL_ERRNOS = frozenset({errno.ENOSPC, errno.EDQUOT} if hasattr(errno, "EDQUOT") else {errno.ENOSPC})
REFUSED_ERRNOS = frozenset({errno.EACCES, errno.EPERM, errno.EROFS})

# What pip and the libraries under it print, in lower case; the first group that matches names the fault.
PIP_WORDS = (
    (FULL, ("no space left on device", "disk quota exceeded", "not enough space on the disk")),
    (READ_ONLY, ("read-only file system", "permission denied", "access is denied")),
    (WRONG_PYTHON, ("require a different python version", "requires a different python")),
    (
        NO_NETWORK,
        (
            "newconnectionerror",
            "name resolution",
            "getaddrinfo failed",
            "max retries exceeded",
            "connecttimeout",
            "readtimeout",
            "read timed out",
            "cannot connect to proxy",
            "(from versions: none)",
        ),
    ),
)


def explain_oserror(error: OSError, folder: Path) -> str:
    """Return what an error met while writing below `folder` means, in plain words."""
    if error.errno in FULL_ERRNOS:
        return FULL.format(folder=folder)
    if error.errno in REFUSED_ERRNOS:
        return READ_ONLY.format(folder=folder)
    return f"{folder} cannot be used: {error.strerror or error}."


def explain_output(output: str, folder: Path, otherwise: str) -> str:
    """Return what a failed run of venv or pip means, in plain words; `otherwise` if nothing known."""
    if shutil.disk_usage(folder).free < LEAST_FREE_BYTES:  # venv keeps what its pip complained of to itself
        return FULL.format(folder=folder)
    text = output.lower()
    for message, words in PIP_WORDS:
        if any(word in text for word in words):
            return message.format(folder=folder)
    return otherwise
