"""Why there is no book at all; light, so that commands can name it without the record model."""


class BookError(Exception):
    """The records cannot be loaded at all: no such folder, or no right to read it. Its text says what to do."""
