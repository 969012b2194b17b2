"""What materials are made of for a compost mix: moisture, carbon and nitrogen, each with its source."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache

from divert.factors.load import DATA
from divert.factors.model import Printed


@dataclass(frozen=True, slots=True)
class FeedValue:
    """Shares of wet mass: ``moisture``, ``carbon``, ``nitrogen``; as published of dry mass."""

    key: str
    moisture: float
    carbon: float
    nitrogen: float
    printed: Printed


@lru_cache
def feed_values() -> dict[str, FeedValue]:
    """Return the mix numbers by the key of the built-in material."""
    with (DATA / "documents.csv").open(encoding="utf-8", newline="") as file:
        documents = {row["id"]: (row["title"], row["year"]) for row in csv.DictReader(file)}
    out = {}
    with (DATA / "feed.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            title, year = documents[row["document"]]
            printed = Printed(
                f"moisture {row['moisture']}, nitrogen {row['nitrogen']} of dry mass, "
                f"C:N {row['carbon_to_nitrogen']}",
                title, year, row["place"], row["standing"], row["note"],  # type: ignore[arg-type]
            )  # fmt: skip
            dry = 1 - float(row["moisture"])
            nitrogen = dry * float(row["nitrogen"])
            carbon = nitrogen * float(row["carbon_to_nitrogen"])
            out[row["material"]] = FeedValue(
                row["material"], float(row["moisture"]), carbon, nitrogen, printed
            )
    return out
