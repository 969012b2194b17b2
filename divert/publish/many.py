"""Many reports at once: every core sets its share of them, from workings that were read once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from divert.convert import Workings
from divert.evidence.sharing import Audience
from divert.publish.all_cores import can_share, left_as_it_is, on_all_cores
from divert.publish.job import Job
from divert.publish.make import Made, make
from divert.report.paper.look import Look
from divert.report.paper.pdf import warm_up

_LONGEST: tuple[Audience, ...] = ("grant", "board", "sponsor")
_FEWEST = 4  # fewer reports than this are done before another process has started


def make_all(
    jobs: Sequence[Job], workings: Workings, look: Look, formats: Sequence[str]
) -> Iterator[tuple[Job, Made]]:
    """Yield every report in the order of its job. Raises CannotRun as :func:`make` does."""
    with left_as_it_is():
        if len(jobs) < _FEWEST or not can_share(len(jobs)):
            for job in jobs:
                yield job, make(job, workings, look, formats, alone=True)
            return
        if "pdf" in formats:
            warm_up(look, workings.site.language)

        def one(place: int) -> Made:
            return make(jobs[place], workings, look, formats)

        longest_first = sorted(range(len(jobs)), key=lambda at: _LONGEST.index(jobs[at].audience))
        yield from zip(jobs, on_all_cores(one, longest_first), strict=True)
