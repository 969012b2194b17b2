"""What a form says of many names at once, once it is followed from name to name."""

from __future__ import annotations

from collections.abc import Mapping

Said = dict[
    str, tuple[str, str, str]
]  # of each name: (kind, name, "" | "new" | "out" | "same: ...")
_SAME = "same: "


def said_of_names(form: Mapping[str, str], kinds: tuple[str, ...]) -> Said:
    """Return what a form says of each name, by its number in the form.

    Whoever says that all others of a kind are new need not say it of each; and a name that another
    is said to be the same as is new itself, unless more is said of it.
    """
    out: Said = {}
    for key, name in form.items():
        if key.startswith("name-"):
            number = key.removeprefix("name-")
            kind, what = form.get(f"kind-{number}", ""), form.get(f"what-{number}", "")
            if kind in kinds:
                out[number] = (kind, name, what or ("new" if form.get(f"rest-{kind}") else ""))
    for number in out:
        _follow(number, out)
    return out


def _follow(number: str, said: Said) -> None:
    """Let a name be the same as one that is known, or new, at the end of what it is the same as."""
    kind, name, what = said[number]
    numbers = {n: key for key, (k, n, _) in said.items() if k == kind}
    passed = {number}
    while what.startswith(_SAME) and (other := numbers.get(what.removeprefix(_SAME))) is not None:
        if other in passed:  # each is the same as the next, in a ring: then this one is new
            what = "new"
            break
        passed.add(other)
        _, its_name, its_what = said[other]
        if its_what in ("", "new"):
            said[other] = (kind, its_name, "new")
            break
        what = its_what
    said[number] = (kind, name, what)
