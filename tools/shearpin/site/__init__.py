"""The MkDocs plugin and the pages, whose bodies do not depend on the theme."""
