"""The settings and factors of a day as plain files, and back without losing a bit."""

from __future__ import annotations

import json
from pathlib import Path

from divert.factors import Band, BuiltInMaterial, Factor, FactorSet, ScreeningFactor
from divert.register.plain import from_plain, to_plain
from divert.site.model import Site


def settings_json(site: Site) -> bytes:
    """Return the settings as they were understood, as JSON (site.toml is kept as it was written)."""
    plain = {k: v for k, v in to_plain(site).items() if k != "folder"}
    return json.dumps(plain, ensure_ascii=False, indent=1).encode()


def settings_of(data: bytes, folder: Path) -> Site:
    """Return the site of :func:`settings_json`, in a folder."""
    return from_plain(Site, {**json.loads(data), "folder": str(folder)})


def factors_json(factors: FactorSet) -> bytes:
    """Return a factor set as JSON, with every source."""
    plain = {
        "factors": to_plain(factors.factors),
        "materials": to_plain(tuple(factors.materials.values())),
        "bands": to_plain(tuple(factors.bands.values())),
        "screening": to_plain(factors.screening),
        "stand_ins": [[*pair, row] for pair, row in sorted(factors.stand_ins.items())],
    }
    return json.dumps(plain, ensure_ascii=False, indent=1).encode()


def factors_of(data: bytes) -> FactorSet:
    """Return the factor set of :func:`factors_json`."""
    plain = json.loads(data)
    return FactorSet(
        from_plain(tuple[Factor, ...], plain["factors"]),
        {m["key"]: from_plain(BuiltInMaterial, m) for m in plain["materials"]},
        {b["key"]: from_plain(Band, b) for b in plain["bands"]},
        from_plain(tuple[ScreeningFactor, ...], plain["screening"]),
        {(set_, class_): row for set_, class_, row in plain["stand_ins"]},
    )
