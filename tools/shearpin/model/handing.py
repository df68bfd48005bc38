"""What a forked process hands to the one that it parted from: a file without a name, in which it waits until that one has time.

A pipe holds little: whoever writes into it stands still until somebody reads.
"""

from __future__ import annotations

import marshal
import struct
import tempfile
from collections.abc import Iterator
from typing import IO, Any, Final

_LENGTH: Final = struct.Struct("=Q")


class Handing:
    """Parts of text, bytes, numbers, tuples, lists and mappings, in order; raises `OSError` where there is no room for them.

    To be made before the processes part. Each part is to be small: as a whole all of it would take its room twice.
    """

    def __init__(self) -> None:
        self._file: IO[bytes] = tempfile.TemporaryFile()  # noqa: SIM115 - see `close`

    def put(self, *part: Any) -> None:
        """Hand over a part; `done` is to be called after the last."""
        packed = marshal.dumps(part)
        self._file.write(_LENGTH.pack(len(packed)))
        self._file.write(packed)

    def done(self) -> None:
        """Hand over what still waits in this process."""
        self._file.flush()

    def take(self) -> Iterator[Any]:
        """Yield every part; the other process must have ended."""
        self._file.seek(0)
        while length := self._file.read(_LENGTH.size):
            yield marshal.loads(self._file.read(_LENGTH.unpack(length)[0]))

    def close(self) -> None:
        """Give up the file, with whatever is in it."""
        self._file.close()
