"""Which version of a library is installed, told by the folder it was installed with.

importlib.metadata tells the same and brings a mail parser with it, which is a thirtieth of a short
command.
"""

from __future__ import annotations

import os
import sys
from functools import cache


@cache
def installed(name: str) -> str:
    """Return the version of an installed library, as pip names it ("python-calamine").

    Where an update left the folder of another version behind, all of them are named. Raises
    importlib.metadata.PackageNotFoundError where there is none.
    """
    start = name.replace("-", "_").lower() + "-"
    for place in sys.path:
        try:
            with os.scandir(place or ".") as entries:
                folders = [entry.name for entry in entries if entry.name.endswith(_ENDING)]
        except OSError:
            continue
        found = [
            folder[len(start) : -len(_ENDING)]
            for folder in folders
            if folder.lower().startswith(start)
        ]
        if found:
            return " ".join(sorted(found))
    from importlib.metadata import version

    return version(name)


_ENDING = ".dist-info"
