"""Names of the inputs that a ledger and its users know by name: what everything else is worked out from."""

from __future__ import annotations

from typing import Final

RECORD: Final = "record"
"""The first part of the names of records, which are different with every change."""
EXISTING: Final = "existing"
"""The name of the input that tells which records there are."""
GIST: Final = "gist"
"""The first part of the names of the gists of records, with whom they are for and what they point to."""
FACTS: Final = "facts"
"""The name of the input that tells which machine a condition holds for: all of it."""
EVERYWHERE: Final = "everywhere"
"""The name of the input that tells which machines there are."""
MACHINES_FOR: Final = "machines for"
"""The first part of the names of conditions, as text, with the machines that each holds for."""
REASONS_AGAINST: Final = "reasons against"
"""The first part of the names of conditions, as text, with the reasons for which each does not hold for machines."""
ENGINE_OF: Final = "engine of"
"""The first part of the names of machines with the engine of each."""
RECORDED: Final = "recorded"
"""The first part of the names of what a machine or an engine records: which values, with a source and to be read or not."""
BONES: Final = "bones"
"""The first part of the names of what a record holds but for its words."""
