"""The MkDocs plugin and the pages, whose bodies do not depend on the theme."""

from shearpin.model.ending import collect_seldom

collect_seldom()  # before everything else of the package is imported
