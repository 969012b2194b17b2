"""What a column is said to be on a screen; in site.toml and reading.toml its own key stands."""

from __future__ import annotations

import re

from divert.core.words import N_, Text

FIELDS: dict[str, str] = {
    "before": N_("where it went before"),
    "by": N_("who wrote it"),
    "condition": N_("condition"),
    "container": N_("container"),
    "contamination": N_("contamination"),
    "count": N_("how many"),
    "currency": N_("currency"),
    "date": N_("date"),
    "day": N_("day of the month"),
    "destination": N_("where it was taken"),
    "dimension": N_("length or height"),
    "each": N_("weight of each"),
    "fill": N_("how full"),
    "fuel": N_("fuel"),
    "gross": N_("weight with container"),
    "hours": N_("hours"),
    "id": N_("number of the load"),
    "kind": N_("in or out"),
    "material": N_("material"),
    "money": N_("money"),
    "month": N_("month"),
    "name": N_("activity"),
    "not read": N_("not read"),
    "note": N_("note"),
    "people": N_("people"),
    "price": N_("price"),
    "product": N_("product"),
    "quantity": N_("amount"),
    "removed": N_("thrown away of it"),
    "running": N_("a number that says nothing of loads"),
    "size": N_("size of the container"),
    "source": N_("source"),
    "status": N_("taken or refused"),
    "tare": N_("empty weight"),
    "time": N_("time of day"),
    "total": N_("total, not counted"),
    "total (not counted)": N_("total, not counted"),
    "type": N_("kind of material"),
    "unit": N_("unit"),
    "volume": N_("volume"),
    "weekday": N_("day of the week"),
    "weight": N_("weight"),
    "year": N_("year"),
}
_TAKEN = re.compile(r"(?P<field>[^:(]+?)(?:: (?P<about>.+?))?(?: \((?P<unit>[^()]+)\))?")


def field_said(field: str) -> Text:
    """Return what a field is called."""
    return Text(FIELDS[field]) if field in FIELDS else Text("{field}", {"field": field})


def column_said(taken: str) -> Text:
    """Return in words how a column is taken: "gross (lb)" as "weight with container, lb"."""
    if taken in FIELDS:
        return field_said(taken)
    match = _TAKEN.fullmatch(taken)
    if match is None or match["field"] not in FIELDS:
        return Text("{field}", {"field": taken})
    field, about, unit = field_said(match["field"]), match["about"] or "", match["unit"] or ""
    if about and unit:
        return Text(N_("{field}: {about}, {unit}"), {"field": field, "about": about, "unit": unit})
    if about:
        return Text(N_("{field}: {about}"), {"field": field, "about": about})
    return Text(N_("{field}, {unit}"), {"field": field, "unit": unit}) if unit else field
