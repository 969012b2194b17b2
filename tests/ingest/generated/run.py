"""The full run: ``PYTHONPATH=. python -m tests.ingest.generated.run [how many] [first seed]``.

Prints how many true loads were read right, asked about, and wrong without a question, and of each
kind of wrong the seeds at which to look.
"""

from __future__ import annotations

import sys
from collections import Counter

from .books import book
from .score import score


def main(many: int = 2000, first: int = 0) -> None:
    """Read ``many`` made-up files and print the figures."""
    true = right = asked = silent = queried = 0
    seeds: list[int] = []
    of_traits: Counter[str] = Counter()
    aside_of: Counter[str] = Counter()
    for seed in range(first, first + many):
        made = book(seed)
        said = score(made)
        true += said.true
        right += said.right
        asked += said.asked
        silent += said.silent
        queried += said.queried
        if said.silent:
            seeds.append(seed)
            of_traits.update(set(made.traits))
            print(f"{seed}: {'; '.join(made.traits)} [{made.files[0].name}]", file=sys.stderr)
            print(f"    wrong {said.counted_wrong[:2]} lost {said.lost[:2]}", file=sys.stderr)
        if said.asked:
            aside_of.update(dict.fromkeys(set(made.traits), said.asked))
    print(f"{many} sheets, {true} true loads: right {right / true:.1%}, asked {asked / true:.1%}")
    print(f"counted though they should not, with a question about their note: {queried}")
    print(f"wrong without a question: {silent} in {len(seeds)} sheets")
    print("of:", of_traits.most_common(25))
    print("asked:", aside_of.most_common(25))


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
