"""The yard's own settings: a new site.toml out of a few fields, and what may be changed later."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping

from flask import Blueprint, request
from werkzeug.wrappers import Response

from divert.core.findings import CannotRun
from divert.core.words import N_, Text, languages
from divert.page.open_yard import the_desk, the_reading
from divert.page.questions import Field
from divert.page.screen import language_of, screen
from divert.page.views.changing import change
from divert.page.views.new_yard import begun, look_at_new
from divert.report.wording.dates import month_name
from divert.site.change import AddTo, Edit, NewEntry, SetKey
from divert.site.change.edits import Value
from divert.site.model import Site

blueprint = Blueprint("yard", __name__)
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September",
          "October", "November", "December")  # fmt: skip
_TEXTS = ("name", "country", "units", "ton", "gallon", "dates", "year_starts", "language", "currency",
          "colour")  # fmt: skip


@blueprint.get("/yard")
def yard() -> str:
    """Show the yard's settings, or those that its files tell of a new one."""
    seen = the_reading()
    folder = the_desk().folder
    if not (folder / "site.toml").exists():
        guess = seen.guess if seen is not None else None
        region = (request.accept_languages.best or "en-US").partition("-")[2].upper()[:2]
        values = {
            "name": guess.name if guess else folder.name,
            "started": str(guess.started if guess and guess.started else the_desk().today),
            "units": (guess.units if guess else "") or ("us" if region == "US" else "metric"),
            "language": (guess.language if guess else "") or language_of(None),
            "country": region or "US",
            "currency": _currency(region or "US"),
        }
        return screen("new_yard.html", guess=guess, fields=_fields(values, new=True))
    if seen is None or seen.site is None:
        return screen("yard_broken.html", problem=seen.problem if seen is not None else None)
    site = seen.site
    return screen("yard.html", site=site, fields=_fields(_now(site), new=False), adds=_adds(site),
                  beds=site.beds, grants=site.grants, sponsors=site.sponsors)  # fmt: skip


@blueprint.post("/yard")
def change_yard() -> str | Response:
    """Begin a new yard, or change what was changed in the fields."""
    if not (the_desk().folder / "site.toml").exists():
        return begun() if request.form.get("write") else look_at_new(_edits({}))
    seen = the_reading()
    site = seen.site if seen is not None else None
    if site is None:
        return yard()
    now = _now(site)
    return change(lambda: _edits(now), "/yard", Text(N_("The yard")))


@blueprint.post("/yard/add")
def add() -> str | Response:
    """Add a sponsor, a grant, a bed, a target, or closed weeks."""
    what = request.form.get("what", "")

    def edits() -> list[Edit]:
        made = _ADDS.get(what)
        if made is None:
            raise CannotRun(Text(N_("That cannot be added here.")))
        return made(request.form)

    return change(edits, "/yard", Text(N_("The yard")))


def _now(site: Site) -> dict[str, str]:
    return {
        "name": site.name, "started": site.started.isoformat(), "units": site.units,
        "country": site.country, "language": site.language, "currency": site.currency,
        "dates": site.dates or "", "ton": site.ton, "gallon": site.gallon,
        "year_starts": MONTHS[site.year_starts - 1], "colour": site.colour,
    }  # fmt: skip


def _edits(now: Mapping[str, str]) -> list[Edit]:
    """Return an edit for each field that says something else than site.toml does now."""
    edits: list[Edit] = []
    for key in _TEXTS:
        said = request.form.get(key, "").strip()
        if said and said != now.get(key, ""):
            edits.append(SetKey("site", "", key, said))
    started = request.form.get("started", "").strip()
    if started and started != now.get("started"):
        edits.append(SetKey("site", "", "started", _day(started)))
    return edits


def _day(text: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise CannotRun(
            Text(N_("“{text}” is not a day such as 2024-04-01."), {"text": text})
        ) from None


def _month(number: int) -> str:
    """Return the name of a month in the language of whoever looks."""
    seen = the_reading()
    return month_name(f"2000-{number:02}", language_of(seen.site if seen else None), "wide")


def _fields(values: Mapping[str, str], *, new: bool) -> list[Field]:
    """Return the fields of the yard: those that every yard must say first."""
    named: dict[str, Text | str] = {"en": "English", "fr": "Français"}
    spoken = tuple((name, named.get(name, name)) for name in languages())

    def said(*pairs: tuple[str, str]) -> tuple[tuple[str, Text | str], ...]:
        return tuple((value, Text(label)) for value, label in pairs)

    fields = [
        Field("name", Text(N_("Name, as it is printed"))),
        Field("started", Text(N_("First day that counts")),
              hint=Text(N_("The day of the earliest line, or a later one, written like 2024-04-01."))),
        Field("units", Text(N_("Units of the reports")), choices=said(
            ("us", N_("pounds, short tons (2,000 lb), gallons")),
            ("metric", N_("kilograms, tonnes (1,000 kg), litres")))),
        Field("language", Text(N_("Language of the reports")), choices=spoken),
        Field("dates", Text(N_("Dates such as 03/04/2025 are written")), required=False, choices=said(
            ("month first", N_("with the month first")), ("day first", N_("with the day first")))),
        Field("country", Text(N_("Country, in two letters"))),
        Field("currency", Text(N_("Currency, in three letters"))),
        Field("year_starts", Text(N_("The reporting year begins in")),
              choices=tuple((m, _month(n)) for n, m in enumerate(MONTHS, 1))),
        Field("ton", Text(N_("A bare “ton” in the sheets is")), choices=said(
            ("short", N_("short ton (2,000 lb)")), ("long", N_("long ton (2,240 lb)")),
            ("tonne", N_("tonne (1,000 kg)")))),
        Field("gallon", Text(N_("A bare “gal” in the sheets is")), choices=said(
            ("us", N_("US gallon (3.785 L)")), ("imperial", N_("imperial gallon (4.546 L)")))),
    ]  # fmt: skip
    defaults = {"year_starts": "January", "ton": "short", "gallon": "us"}
    if values.get("units") == "metric" and new:
        defaults["ton"] = "tonne"
    filled = {**defaults, **values}
    return [
        Field(f.name, f.label, filled.get(f.name, ""), f.choices, f.hint, f.required)
        for f in fields
    ]


def _currency(region: str) -> str:
    from babel.numbers import get_territory_currencies

    found = get_territory_currencies(region)
    return found[-1] if found else "USD"


def _adds(site: Site) -> dict[str, tuple[Field, ...]]:
    """Return the fields of what can be added: a sponsor, a grant, a bed, a target, closed weeks."""
    sources = tuple((n, n) for n in dict.fromkeys(s.name for s in site.sources))
    beds = tuple((k, k) for k in ("flow-through", "tray", "windrow", "bin"))
    size = "3 ft x 10 ft" if site.units == "us" else "1 m x 3 m"
    ton = "12 short ton" if site.units == "us" else "12 tonne"
    return {
        "sponsor": (
            Field("name", Text(N_("Name, as it is printed"))),
            Field("supplies", Text(N_("Whose material it is")), choices=sources, required=False),
            Field(
                "funds", Text(N_("Share of the program it pays for, in percent")), required=False
            ),
            Field("email", Text(N_("Mail address, for the draft")), required=False),
        ),
        "grant": (
            Field("name", Text(N_("Name, as it is printed"))),
            Field("number", Text(N_("Its number")), required=False),
            Field("from", Text(N_("First day")), required=False),
            Field("to", Text(N_("Last day")), required=False),
        ),
        "bed": (
            Field("name", Text(N_("Name, as it is printed"))),
            Field("kind", Text(N_("Kind")), choices=beds),
            Field("size", Text(N_("Size, such as {example}"), {"example": size}), required=False),
        ),
        "target": (
            Field("year", Text(N_("Reporting year"))),
            Field("amount", Text(N_("To divert, such as {example}"), {"example": ton})),
        ),
        "closed": (Field("first", Text(N_("First day"))), Field("last", Text(N_("Last day")))),
    }


def _sponsor(said: Mapping[str, str]) -> list[Edit]:
    values: dict[str, Value] = {"name": said.get("name", "").strip()}
    if source := said.get("supplies", "").strip():
        values["supplies"] = [source]
    if funds := said.get("funds", "").strip():
        try:
            values["funds"] = round(float(funds.replace(",", ".").rstrip("% ")) / 100, 4)
        except ValueError:
            raise CannotRun(Text(N_("Write a number of percent, such as 65."))) from None
    if email := said.get("email", "").strip():
        values["email"] = email
    return [NewEntry("sponsor", values)]


def _grant(said: Mapping[str, str]) -> list[Edit]:
    values: dict[str, Value] = {"name": said.get("name", "").strip()}
    if number := said.get("number", "").strip():
        values["number"] = number
    for key in ("from", "to"):
        if text := said.get(key, "").strip():
            values[key] = _day(text)
    return [NewEntry("grant", values)]


def _bed(said: Mapping[str, str]) -> list[Edit]:
    values = {key: said.get(key, "").strip() for key in ("name", "kind", "size")}
    return [NewEntry("bed", {key: text for key, text in values.items() if text})]


def _target(said: Mapping[str, str]) -> list[Edit]:
    return [SetKey("target", "", said.get("year", "").strip(), said.get("amount", "").strip())]


def _closed(said: Mapping[str, str]) -> list[Edit]:
    first, last = (_day(said.get(key, "").strip()) for key in ("first", "last"))
    return [AddTo("closed", "", "weeks", (f"{first}/{last}",))]


_ADDS: Mapping[str, Callable[[Mapping[str, str]], list[Edit]]] = {
    "sponsor": _sponsor, "grant": _grant, "bed": _bed, "target": _target, "closed": _closed,
}  # fmt: skip
