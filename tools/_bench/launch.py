"""Runs one command and prints what it took, as JSON: `launch.py OUTPUT COMMAND…`.

A process of its own, and a small one: on Linux a child's peak memory counts from what its parent held when it started
it, and a measurement that has just written ten thousand records holds much.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time


def main(output: str, command: list[str]) -> None:
    """Run the command with everything it prints going to the file `output`."""
    with open(output, "wb") as stream:
        began = time.perf_counter()
        process = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=stream, stderr=subprocess.STDOUT)
        took: dict[str, float | None] = {"cpu": None, "peak": None}
        if sys.platform == "win32":  # keeps no account of children that we could ask
            code = process.wait()
            took["seconds"] = time.perf_counter() - began
        else:
            _, status, usage = os.wait4(process.pid, 0)
            took["seconds"] = time.perf_counter() - began
            code = os.waitstatus_to_exitcode(status)
            took["cpu"] = usage.ru_utime + usage.ru_stime
            # Linux counts kibibytes, macOS bytes. Of a command's own children only the largest one is counted.
            took["peak"] = usage.ru_maxrss * (1 if sys.platform == "darwin" else 1024)
    json.dump({"code": code, **took}, sys.stdout)


if __name__ == "__main__":
    try:
        main(sys.argv[1], sys.argv[2:])
    except KeyboardInterrupt:  # meant for the measurement, which tidies up
        sys.exit(130)
