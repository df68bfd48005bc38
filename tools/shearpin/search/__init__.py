"""One analysis chain and one ranking, for the command line and for the browser."""
