"""Changes of site.toml: worked out as lines, shown, then written whole or not at all."""

from divert.site.change.edits import AddTo, Drop, Edit, NewEntry, SetKey
from divert.site.change.planned import Change, Hunk, plan, restore
from divert.site.change.versions import Version, versions
from divert.site.change.written import ChangedMeanwhile, write

__all__ = [
    "AddTo",
    "Change",
    "ChangedMeanwhile",
    "Drop",
    "Edit",
    "Hunk",
    "NewEntry",
    "SetKey",
    "Version",
    "plan",
    "restore",
    "versions",
    "write",
]
