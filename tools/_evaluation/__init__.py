"""How well the search finds what was meant: judged queries, their measures, and plain searches to compare with."""
