"""Made-up sites at the edges of what a report must carry: each a folder that the tool reads itself.

`STRESS` names them. A site is a site.toml and one tidy log, written by `write_site`; `reports` says
which reports are made of it. Nothing here is a real place, person or firm.
"""

from __future__ import annotations

import csv
import datetime as dt
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from PIL import Image

Row = tuple[dt.date, str, str, str]  # day, source, material, amount
DAY = dt.timedelta(days=1)


@dataclass(frozen=True)
class Wanted:
    """One run of reports: for whom, over which period, as of which day."""

    audience: str
    period: str
    as_of: dt.date
    names: tuple[str, ...] | None = None


@dataclass(frozen=True)
class StressSite:
    """A site's settings and its log, with further sheets and pictures by file name."""

    toml: str
    log: tuple[Row, ...]
    reports: tuple[Wanted, ...]
    sheets: dict[str, tuple[Sequence[str], Sequence[Sequence[str]]]] = field(default_factory=dict)
    pictures: dict[str, tuple[int, int]] = field(default_factory=dict)


def write_site(site: StressSite, folder: Path) -> Path:
    """Write a stress site into a folder, which is made; return the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "site.toml").write_text(site.toml, encoding="utf-8")
    heads = ("Date", "Source", "Material", "Amount")
    rows = [
        (f"{day:%Y-%m-%d}", source, material, amount) for day, source, material, amount in site.log
    ]
    _sheet(folder / "intake log.csv", heads, rows)
    for name, (of_sheet, lines) in site.sheets.items():
        _sheet(folder / name, of_sheet, lines)
    for name, size in site.pictures.items():
        Image.new("RGB", size, "#7a8f55").save(folder / name)
    return folder


def _sheet(path: Path, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as out:
        writer = csv.writer(out)
        writer.writerow(heads)
        writer.writerows(rows)


def settings(
    name: str = "Sallow Reach Yard", *, country: str = "US", units: str = "us",
    language: str = "en", started: str = "2024-01-01", more: str = "", site: str = "",
    captured: str = "0.5", sources: Sequence[str] = ("North kitchen", "Otter Street canteen"),
    sponsors: str = "", before: str = "landfill",
) -> str:  # fmt: skip
    """Return a site.toml: three materials, the sources named, sponsors and more as given."""
    listed = "".join(f'[[source]]\nname = "{one}"\n' for one in sources)
    currency = "USD" if country == "US" else "EUR"
    return f"""
[site]
name = "{name}"
country = "{country}"
units = "{units}"
language = "{language}"
currency = "{currency}"
started = {started}
{site}
[landfill]
gas_captured = {captured}
[[container]]
name = "tote"
volume = "18 gal"
tare = "6.5 lb"
usual_fill = 0.8
[[material]]
name = "kitchen scraps"
like = "food-scraps"
before = "{before}"
[[material]]
name = "coffee grounds"
like = "coffee-grounds"
before = "{before}"
[[material]]
name = "spent grain"
like = "spent-grain"
before = "fed to animals"
{listed}{sponsors}{more}"""


PAYS = '[[sponsor]]\nname = "Larch Bank"\nfunds = 0.25\nemail = "giving@larch.example"\n'
BRINGS = '[[sponsor]]\nname = "North School"\nsupplies = ["North kitchen"]\n'
GRANT = '[[grant]]\nname = "Soil and Streams Fund"\nnumber = "SSF-2"\nfrom = 2024-01-01\nto = 2026-12-31\nshare = 0.4\n'
TARGET = '[target]\n2024 = "2 short ton"\n2025 = "2 short ton"\n'


def weekly(
    first: dt.date, last: dt.date, sources: Sequence[str], amount: Callable[[int, int], str],
    *, every: int = 7, material: str = "kitchen scraps",
) -> tuple[Row, ...]:  # fmt: skip
    """Return a load of each source every so many days; ``amount`` takes the week and the source."""
    rows, day, week = [], first, 0
    while day <= last:
        rows += [(day, source, material, amount(week, n)) for n, source in enumerate(sources)]
        day, week = day + every * DAY, week + 1
    return tuple(rows)


def every_report(period: str, year: str, as_of: dt.date) -> tuple[Wanted, ...]:
    """Return one sponsor run and one grant run of a period, and the board's of its year."""
    return (
        Wanted("sponsor", period, as_of),
        Wanted("grant", period, as_of),
        Wanted("board", year, as_of),
    )


TWO = ("North kitchen", "Otter Street canteen")
Y24, Y25 = dt.date(2024, 1, 3), dt.date(2025, 12, 28)
LATER = dt.date(2026, 1, 15)


def _pounds(base: float, step: float = 3.0) -> Callable[[int, int], str]:
    return lambda week, n: f"{base + step * ((week * 7 + n * 3) % 11):g} lb"


def _one_row() -> StressSite:
    return StressSite(
        settings(sponsors=PAYS + BRINGS, more=GRANT + TARGET),
        ((dt.date(2025, 5, 6), "North kitchen", "kitchen scraps", "2 totes"),),
        every_report("2025-Q2", "2025", dt.date(2025, 7, 3)),
    )


def _empty_quarter() -> StressSite:
    """Two years of loads with a summer quarter that nobody wrote down."""
    rows = weekly(Y24, Y25, TWO, _pounds(40))
    kept = tuple(r for r in rows if not dt.date(2025, 7, 1) <= r[0] <= dt.date(2025, 9, 30))
    return StressSite(
        settings(sponsors=PAYS + BRINGS, more=GRANT + TARGET), kept,
        every_report("2025-Q3", "2025", LATER),
    )  # fmt: skip


def _ten_years() -> StressSite:
    names = tuple(f"Kitchen at {n} Willow Row" for n in range(1, 61))
    sponsors = "".join(
        f'[[sponsor]]\nname = "Sponsor of {n} Willow Row"\nsupplies = ["Kitchen at {n} Willow Row"]\n'
        + ("funds = 0.02\n" if n <= 10 else "")
        for n in range(1, 31)
    )
    rows = weekly(dt.date(2016, 1, 4), dt.date(2025, 12, 20), names,
                  lambda week, n: f"{1 + (week + n) % 3} totes", every=42)  # fmt: skip
    targets = "[target]\n" + "".join(
        f'{y} = "{18 + y - 2016} short ton"\n' for y in range(2016, 2026)
    )
    grant = GRANT.replace("2024-01-01", "2016-01-01")
    return StressSite(
        settings(sources=names, sponsors=sponsors, more=grant + targets, started="2016-01-01"),
        rows,
        (
            Wanted(
                "sponsor", "2025-Q4", LATER, ("Sponsor of 1 Willow Row", "Sponsor of 30 Willow Row")
            ),
            Wanted("grant", "2025-Q4", LATER),
            Wanted("board", "2025", LATER),
        ),
    )


LONG = (
    "The Association of Friends and Neighbors of the Lower Kestrel Water Meadows Community Kitchen"
)
WORD = "Untrennbarlangesgenossenschaftskantinenverpflegungswerk"


def _long_names() -> StressSite:
    sponsors = (
        f'[[sponsor]]\nname = "{LONG} Supporters"\nsupplies = ["{LONG}"]\nfunds = 0.1\n'
        f'[[sponsor]]\nname = "{WORD}"\nsupplies = ["{WORD}"]\n'
    )
    more = GRANT.replace("Soil and Streams Fund", f"{LONG} Fund for the Keeping of Soils").replace(
        "SSF-2", "SSF-2/2024/continued/annex-4"
    )
    material = f'[[material]]\nname = "{WORD} scraps of every kind, cooked and uncooked, with their paper"\nlike = "food-scraps"\nbefore = "landfill"\n'
    rows = weekly(Y24, Y25, (LONG, WORD), _pounds(35))
    odd = weekly(dt.date(2025, 1, 8), Y25, (LONG,), _pounds(12), every=21,
                 material=f"{WORD} scraps of every kind, cooked and uncooked, with their paper")  # fmt: skip
    return StressSite(
        settings(name=f"{LONG} Yard", sources=(LONG, WORD), sponsors=sponsors,
                 more=material + more + TARGET),
        rows + odd, every_report("2025-Q2", "2025", LATER),
    )  # fmt: skip


def _french_metric() -> StressSite:
    sources = ("École du Vieux Quai", "Traiteur Duchêne", "Chaudière & Cie")
    sponsors = (
        '[[sponsor]]\nname = "Caisse d’Épargne des Érables"\nfunds = 0.25\n'
        '[[sponsor]]\nname = "École du Vieux Quai"\nsupplies = ["École du Vieux Quai"]\n'
    )
    materials = (
        '[[material]]\nname = "marc de café"\nlike = "coffee-grounds"\nbefore = "landfill"\n'
        '[[material]]\nname = "drêches"\nlike = "spent-grain"\nbefore = "fed to animals"\n'
    )
    rows = weekly(Y24, Y25, sources[:2], lambda week, n: f"{18 + (week + n) % 7},5 kg")
    rows += weekly(
        Y24, Y25, sources[2:], lambda week, n: "2 bacs", material="marc de café", every=14
    )
    rows += weekly(Y24, Y25, sources[2:], lambda week, n: "22 kg", material="drêches", every=28)
    bin_ = '[[container]]\nname = "bac"\nalso = ["bacs"]\nvolume = "60 L"\ntare = "3,5 kg"\nusual_fill = 0.8\n'
    return StressSite(
        settings(name="Jardin des Érables", country="FR", units="metric", language="fr",
                 sources=sources, sponsors=sponsors,
                 more=materials + bin_ + GRANT.replace("Soil and Streams Fund", "Fonds des sols vivants")
                 + '[target]\n2024 = "2 tonne"\n2025 = "2,5 tonne"\n'),
        rows, every_report("2025-Q2", "2025", LATER),
    )  # fmt: skip


def _negative_net() -> StressSite:
    """All of the landfill's gas is captured, so that composting gives off more than it saves."""
    return StressSite(
        settings(sponsors=PAYS + BRINGS, more=GRANT + TARGET, captured="0.97"),
        weekly(Y24, Y25, TWO, _pounds(40)), every_report("2025-Q2", "2025", LATER),
    )  # fmt: skip


def _residue_only() -> StressSite:
    """A quarter in which more was screened out and thrown away than came in."""
    log = weekly(Y24, dt.date(2025, 3, 20), TWO, _pounds(40))
    log += ((dt.date(2025, 4, 8), "North kitchen", "kitchen scraps", "30 lb"),)
    return StressSite(
        settings(sponsors=PAYS + BRINGS, more=GRANT), log,
        every_report("2025-Q2", "2025-Q2", dt.date(2025, 7, 3)),
        {"residue.csv": (("Date", "Residue thrown away"), (("2025-04-20", "210 lb"),))},
    )  # fmt: skip


def _all_weighed() -> StressSite:
    return StressSite(
        settings(sponsors=PAYS + BRINGS, more=GRANT + TARGET),
        weekly(Y24, Y25, TWO, _pounds(40)), every_report("2025-Q2", "2025", LATER),
    )  # fmt: skip


def _nothing_weighed() -> StressSite:
    rows = weekly(Y24, Y25, TWO, lambda week, n: f"{2 + (week + n) % 3} totes")
    rows += weekly(Y24, Y25, TWO[1:], lambda week, n: "1 tote", material="coffee grounds", every=14)
    return StressSite(
        settings(sponsors=PAYS + BRINGS, more=GRANT + TARGET), rows,
        every_report("2025-Q2", "2025", LATER),
    )  # fmt: skip


def _a_trace() -> StressSite:
    """A twentieth of a pound in a quarter: more than nothing, less than one."""
    return StressSite(
        settings(sponsors=PAYS + BRINGS, more=GRANT + TARGET),
        ((dt.date(2025, 5, 6), "North kitchen", "kitchen scraps", "0.05 lb"),),
        every_report("2025-Q2", "2025", dt.date(2025, 7, 3)),
    )  # fmt: skip


def _forty_thousand() -> StressSite:
    return StressSite(
        settings(country="FR", units="metric", sponsors=PAYS + BRINGS,
                 more=GRANT + '[target]\n2024 = "19000 tonne"\n2025 = "21000 tonne"\n'),
        weekly(Y24, Y25, TWO, lambda week, n: f"{190 + (week * 3 + n) % 17} tonne"),
        every_report("2025-Q2", "2025", LATER),
    )  # fmt: skip


def _other_scripts() -> StressSite:
    sources = ("مطبخ الحديقة", "מטבח הגן", "柳街厨房", "Žižkovská jídelna")
    sponsors = (
        '[[sponsor]]\nname = "مطبخ الحديقة"\nsupplies = ["مطبخ الحديقة"]\n'
        '[[sponsor]]\nname = "柳街厨房"\nsupplies = ["柳街厨房"]\nfunds = 0.1\n'
    )
    materials = '[[material]]\nname = "بقايا الطعام"\nlike = "food-scraps"\nbefore = "landfill"\n'
    rows = weekly(Y24, Y25, sources, _pounds(25))
    rows += weekly(Y24, Y25, sources[:1], _pounds(18), material="بقايا الطعام", every=14)
    return StressSite(
        settings(name="Willow Street 柳街 Yard", sources=sources, sponsors=sponsors,
                 more=materials + GRANT + TARGET),
        rows, every_report("2025-Q2", "2025", LATER),
    )  # fmt: skip


def _pictured(logo: tuple[int, int], picture: tuple[int, int]) -> StressSite:
    base = _nothing_weighed()
    toml = base.toml.replace("[landfill]", 'logo = "logo.png"\n[landfill]')
    return StressSite(
        f'{toml}[report]\npicture = "yard.png"\n', base.log,
        (Wanted("sponsor", "2025-Q2", LATER), Wanted("board", "2025", LATER)),
        pictures={"logo.png": logo, "yard.png": picture},
    )  # fmt: skip


def _no_intake() -> StressSite:
    """A year in which only a harvest was written down."""
    log = weekly(Y24, dt.date(2024, 12, 20), TWO, _pounds(40))
    harvest = (
        ("Date", "Product", "Weight", "Where it went"),
        (("2025-05-06", "worm castings", "300 lb", "school gardens"),),
    )
    return StressSite(
        settings(sponsors=PAYS + BRINGS, more=GRANT + TARGET), log,
        every_report("2025-Q2", "2025", LATER), {"harvest.csv": harvest},
    )  # fmt: skip


def _idle_sponsor() -> StressSite:
    """One sponsor brought nothing this quarter, and another never did."""
    sponsors = BRINGS + '[[sponsor]]\nname = "Quiet Hall"\nsupplies = ["Quiet Hall kitchen"]\n'
    rows = weekly(Y24, dt.date(2025, 3, 20), TWO[:1], _pounds(30))
    rows += weekly(Y24, Y25, TWO[1:], _pounds(50))
    return StressSite(
        settings(sources=(*TWO, "Quiet Hall kitchen"), sponsors=sponsors, more=GRANT + TARGET),
        rows, (Wanted("sponsor", "2025-Q2", LATER), Wanted("board", "2025", LATER)),
    )  # fmt: skip


def _july_year() -> StressSite:
    return StressSite(
        settings(sponsors=PAYS + BRINGS, more=GRANT + '[target]\n2025 = "2 short ton"\n2026 = "3 short ton"\n',
                 site='year_starts = "July"'),
        weekly(Y24, Y25, TWO, _pounds(40)), every_report("2026-Q2", "2026", LATER),
    )  # fmt: skip


def _target_missed() -> StressSite:
    return StressSite(
        settings(sponsors=PAYS + BRINGS, more=GRANT + TARGET.replace("2 short", "4 short")),
        weekly(Y24, dt.date(2024, 12, 28), TWO, _pounds(45))
        + weekly(dt.date(2025, 1, 1), Y25, TWO, _pounds(30)),
        every_report("2025-Q2", "2025", LATER),
    )  # fmt: skip


def _half_set_aside() -> StressSite:
    """Half of the rows cannot be used: page one has to say so."""
    rows = weekly(Y24, Y25, TWO[:1], _pounds(40))
    lost = weekly(Y24, Y25, TWO[:1], lambda week, n: "some")
    return StressSite(
        settings(sources=TWO[:1], sponsors=PAYS + BRINGS, more=GRANT + TARGET), rows + lost,
        every_report("2025-Q2", "2025", LATER),
    )  # fmt: skip


def _fate_not_stated() -> StressSite:
    toml = settings(sponsors=PAYS + BRINGS, more=GRANT, sources=TWO)
    straw = '[[material]]\nname = "stable manure"\nlike = "stable-manure"\n'
    return StressSite(
        toml + straw, weekly(Y24, Y25, TWO, _pounds(60), material="stable manure"),
        every_report("2025-Q2", "2025", LATER),
    )  # fmt: skip


def _a_trace_burned() -> StressSite:
    """A tenth of a pound was bound for an incinerator, among loads for the landfill: it decides nothing."""
    burned = '[[material]]\nname = "paper towels"\nlike = "office-paper"\nbefore = "incinerator"\n'
    rows = weekly(Y24, Y25, TWO, _pounds(40))
    return StressSite(
        settings(sponsors=PAYS + BRINGS, more=burned + GRANT),
        (*rows, (dt.date(2025, 5, 7), "North kitchen", "paper towels", "0.1 lb")),
        (Wanted("sponsor", "2025-Q2", LATER), Wanted("board", "2025", LATER)),
    )  # fmt: skip


def _beds_apart() -> StressSite:
    """One bed is fed far above the ordinary band, the other within it."""
    beds = "".join(
        f'[[bed]]\nname = "{name}"\nkind = "flow-through"\nsize = "{size}"\nworms = "1 lb/ft2"\n'
        for name, size in (("North bed", "3 ft x 4 ft"), ("South bed", "6 ft x 12 ft"))
    )
    return StressSite(
        settings(sponsors=PAYS, more=beds + GRANT), weekly(Y24, Y25, TWO, _pounds(160)),
        (Wanted("board", "2025", LATER),),
    )  # fmt: skip


STRESS: dict[str, Callable[[], StressSite]] = {
    "one row": _one_row,
    "empty quarter": _empty_quarter,
    "ten years": _ten_years,
    "long names": _long_names,
    "French metric": _french_metric,
    "negative net": _negative_net,
    "residue only": _residue_only,
    "all weighed": _all_weighed,
    "nothing weighed": _nothing_weighed,
    "a trace": _a_trace,
    "forty thousand tonnes": _forty_thousand,
    "other scripts": _other_scripts,
    "wide logo": lambda: _pictured((1600, 120), (1600, 500)),
    "tall logo": lambda: _pictured((120, 900), (600, 1400)),
    "no intake": _no_intake,
    "idle sponsor": _idle_sponsor,
    "July year": _july_year,
    "target missed": _target_missed,
    "half set aside": _half_set_aside,
    "fate not stated": _fate_not_stated,
    "a trace burned": _a_trace_burned,
    "heavily fed beds": _beds_apart,
}
