"""Published numbers as data files, each with where it stands written, and their loader."""

from divert.factors.load import load_factors
from divert.factors.model import Band, BuiltInMaterial, Factor, FactorSet, ScreeningFactor, slug
from divert.factors.sources import SourceRow, sources_table

__all__ = [
    "Band",
    "BuiltInMaterial",
    "Factor",
    "FactorSet",
    "ScreeningFactor",
    "SourceRow",
    "load_factors",
    "slug",
    "sources_table",
]
