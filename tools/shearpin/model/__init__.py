"""Records, quantities, source positions and findings; imports nothing else of ours."""
