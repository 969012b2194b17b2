"""What a recheck found, as sentences and as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from divert.core.words import N_, Text
from divert.recheck.check import Recheck
from divert.recheck.figures import FigureCheck


def recheck_lines(found: Recheck) -> Iterator[Text]:
    """Yield the verdict first, then what disagrees, then every printed figure."""
    bad = [one for one in found.figures if not one.holds]
    computed = sum(one.recomputed for one in found.figures)
    counts = {
        "count": len(found.figures), "computed": computed, "bad": len(bad),
        "standing": len(found.figures) - computed,
    }  # fmt: skip
    if found.holds and found.proved is None:
        yield Text(
            N_("Consistent with itself; this does not prove who made it. {count} printed figures: "
               "{computed} worked out again from the evidence, {standing} that stand as values "
               "(ranges, counts, earlier reports) agree on page, in record and in evidence."), counts,
        )  # fmt: skip
    elif found.holds:
        yield Text(
            N_("Holds. {count} printed figures: {computed} worked out again from the evidence, "
               "{standing} that stand as values (ranges, counts, earlier reports) agree on page, in "
               "record and in evidence."), counts,
        )  # fmt: skip
    elif found.withdrawn and not bad and not found.complaints:
        yield Text(N_("Withdrawn: the site has taken this report back."))
    elif not found.figures:
        yield Text(N_("Does not hold; no printed figure could be checked."))
    elif not bad:
        yield Text(
            N_("Does not hold, though the printed figures ({count}) agree with the evidence:"),
            counts,
        )
    else:
        yield Text(N_("Does not hold. {bad} of {count} printed figures disagree."), counts)
    for text in found.complaints:
        yield Text("- {text}", {"text": text})
    for text in (*found.maker.wrong, *found.maker.said):
        yield Text("- {text}", {"text": text})
    for text in found.register.said if found.register else ():
        yield Text("- {text}", {"text": text})
    for one in bad:
        yield Text(N_("- {figure}: {why}"), {"figure": one.figure, "why": one.why or Text("")})
    yield Text("")
    for one in found.figures:
        yield _line(one)


def _line(one: FigureCheck) -> Text:
    values = {
        "verdict": Text(N_("holds") if one.holds else N_("DOES NOT HOLD")),
        "figure": one.figure,
        "text": f"{one.printed} {one.unit}".removesuffix(" count"),
        "how": Text(N_("worked out") if one.recomputed else N_("stands as a value")),
    }
    return Text("{verdict}: {figure} = {text} ({how})", values)


def recheck_json(found: Recheck) -> dict[str, Any]:
    """Return the findings as one JSON object."""
    return {
        "file": found.file,
        "site": found.site,
        "number": found.number,
        "holds": found.holds,
        "proved": found.proved,
        "key": found.maker.key,
        "withdrawn": found.withdrawn,
        "complaints": [str(text) for text in (*found.complaints, *found.maker.wrong)],
        "register": None
        if found.register is None
        else {"agrees": found.register.agrees, "said": [str(t) for t in found.register.said]},
        "figures": [
            {
                "key": one.key,
                "figure": one.figure,
                "printed": one.printed,
                "unit": one.unit,
                "page": one.page,
                "holds": one.holds,
                "recomputed": one.recomputed,
                "why": None if one.why is None else str(one.why),
            }
            for one in found.figures
        ],
    }
