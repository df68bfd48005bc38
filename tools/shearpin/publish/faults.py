"""What can go wrong with a publication that is nobody's bug, in words that say what to do."""

from __future__ import annotations

import errno
import os
from pathlib import Path


class PublishError(Exception):
    """Nothing was published; the text says why and what to do. The previous publication is as it was."""


_UNTOUCHED = "What was published there before is as it was."

_FULL = {errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)}
_GONE = {errno.EIO, errno.ENODEV, errno.ENXIO, errno.ENOENT, errno.ESTALE, errno.ENOTCONN}
_NO_FOLDER = {errno.EEXIST, errno.ENOTDIR}
_REFUSED = {errno.EACCES, errno.EPERM}


def explain_oserror(error: OSError, out: Path) -> str:
    """Return what happened while writing below `out`, and what to do about it."""
    code = error.errno
    if code in _FULL:
        return f"there is no room left on the disk of {out}. {_UNTOUCHED} Free some room, or name another folder with --out."
    if code == errno.EFBIG:
        return (
            f"a file became larger than the disk of {out} or this account allows. {_UNTOUCHED} "
            "Name another folder with --out; sticks formatted as FAT32 hold no file of 4 GB or more."
        )
    if code == errno.EROFS:
        return f"{out} can only be read. {_UNTOUCHED} Slide the lock of the stick or card to the other side, or name another folder with --out."
    if code in _NO_FOLDER:
        return f"{out} cannot be a folder: a file of that name, or of one above it, is there. Name another folder with --out."
    if code in _REFUSED:
        return f"this account may not write in {out}. {_UNTOUCHED} Close what has files there open, or name another folder with --out."
    if code in _GONE:
        return f"{out} cannot be reached any more: was the stick pulled, or the network cut? {_UNTOUCHED} Put it back and publish again."
    reason = error.strerror or os.strerror(code) if code is not None else str(error)
    return f"{out} cannot be written: {reason}. {_UNTOUCHED} Mend that, or name another folder with --out."
