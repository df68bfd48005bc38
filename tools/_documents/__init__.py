"""What tools/documents.py does: the page of all commands, and a gallery of the manual's pages."""
