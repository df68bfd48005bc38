"""What tools/start.py and tools/test.py do: standard library only, because nothing is installed yet."""
