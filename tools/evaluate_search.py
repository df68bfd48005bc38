"""Measures how well the search finds what was meant: `python3 tools/evaluate_search.py` (Windows: `py tools\\...`).

Asks every judged query of `tests/search/queries.tsv`, and misspellings of them made by rule, and prints success@1,
success@3, MRR and nDCG@10 for the tuning and the held-back half, by kind of query, beside plain BM25 and the theme's own
search on the same pages. Needs the test extras. Parses on Python 2.7, so that an old Python gets a plain answer.
"""

import sys


def main():
    # type: () -> int
    from _setup.oldest_python import refusal

    message = refusal(sys.version_info[:2], "tools/evaluate_search.py")
    if message:
        sys.stderr.write(message + "\n")
        return 2
    from _evaluation.command import evaluate

    return evaluate(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
