"""One file per command."""

from shearpin.model.ending import collect_seldom

collect_seldom()  # before everything else of the package is imported
