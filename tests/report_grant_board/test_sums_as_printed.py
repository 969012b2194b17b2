"""Whatever the masses are, the numbers of every printed table add up to its printed totals."""

from __future__ import annotations

import dataclasses
import re

import statements
import yards
from hypothesis import given, settings
from hypothesis import strategies as st

from divert.figures.contract import Figures
from divert.figures.numbers.tables import Table
from divert.report.board.figures import Board, BoardFigures
from divert.report.board.mix import mix_section
from divert.report.grant.columns import GrantFigures, columns
from divert.report.grant.known import known_table
from divert.report.grant.left_out import left_out_table
from divert.report.grant.main_table import main_table
from divert.report.grant.materials import materials_table
from divert.report.grant.years import years_table
from divert.report.sponsor.scope import site_scope

# A material's masses in kg: received, and the shares of it thrown away and not claimed.
SHARE = st.sampled_from([0.0, 0.013, 0.5, 1.0])
MATERIAL = st.tuples(st.floats(0.0, 40_000.0), SHARE, SHARE)
PERIODS = st.integers(1, 9).flatmap(
    lambda n: st.tuples(*(st.lists(MATERIAL, min_size=n, max_size=n) for _ in range(2)))
)
BASES = ("weighed", "measured density", "stated density", "published density")


def figures(base: Figures, masses: list[tuple[float, float, float]]) -> Figures:
    """Return figures with these masses by material, all received in the first month."""
    parts = []
    for i, (received, unclaimed, thrown) in enumerate(masses):
        lost = received * thrown * (1 - unclaimed)
        parts.append(yards.yard.part(f"material {i}", received, received * unclaimed, lost))
    mass = yards.yard.total(tuple(parts))
    nothing = yards.yard.around(0.0)
    months = tuple(
        dataclasses.replace(m, received=mass.received if i == 0 else nothing,
                            diverted=mass.diverted if i == 0 else nothing)
        for i, m in enumerate(base.by_month)
    )  # fmt: skip
    third = mass.not_claimed.times(1 / 3)
    return dataclasses.replace(
        base, mass=mass, by_material=tuple(parts), by_month=months,
        not_claimed=dict.fromkeys(("composted", "bought in", "fed to animals"), third),
        emissions=yards.yard.emissions(mass.diverted.central),
        basis=dict(zip(BASES, (1 / 3, 1 / 3, 1 / 6, 1 / 6), strict=True)),
    )  # fmt: skip


def numbers(table: Table) -> list[tuple[str, list[float]]]:
    """Return a table's rows: how each is set, and its figures as printed."""
    out = []
    for group in table.groups:
        for row in group.rows:
            texts = [re.sub(r"<[^>]+>", "", str(cell)) for cell in row.cells]
            plain = [t.replace(",", "").replace("−", "-").replace("\u202f%", "") for t in texts]
            if row.kind != "range" and all(t.lstrip("-").replace(".", "").isdigit() for t in plain):
                out.append((row.kind, [float(t) for t in plain]))
    return out


def adds_down(rows: list[tuple[str, list[float]]]) -> None:
    *parts, (kind, whole) = rows
    assert kind == "total"
    for column, total in enumerate(whole):
        assert abs(sum(values[column] for _, values in parts) - total) < 1e-6


@settings(max_examples=40, deadline=None)
@given(PERIODS)
def test_every_table_comes_to_its_totals(
    masses: tuple[list[tuple[float, float, float]], list[tuple[float, float, float]]],
) -> None:
    before, now = masses
    both = [
        (a[0] + b[0], 0.0, 0.0) for a, b in zip(before, now, strict=True)
    ]  # only to have a shape; its parts are added up below
    earlier = figures(yards.between(6, 8), before)
    period = figures(yards.between(9, 11), now)
    total = figures(yards.between(6, 11), both)
    parts = tuple(
        yards.yard.part(
            a.name, a.received.central + b.received.central,
            a.not_claimed.central + b.not_claimed.central,
            a.thrown_away.central + b.thrown_away.central,
        )
        for a, b in zip(earlier.by_material, period.by_material, strict=True)
    )  # fmt: skip
    mass = yards.yard.total(parts)
    third = mass.not_claimed.times(1 / 3)
    total = dataclasses.replace(
        total, by_material=parts, mass=mass, by_month=(*earlier.by_month, *period.by_month),
        not_claimed=dict.fromkeys(total.not_claimed, third),
        emissions=yards.yard.emissions(mass.diverted.central),
    )  # fmt: skip
    printer = statements.printer_of(statements.SITE)
    shown = columns(GrantFigures(period, total, earlier), None)
    scale = site_scope(total, printer).scale

    main = numbers(main_table(shown, scale, printer))
    received, *taken_off, diverted = (values for _, values in main[:5])
    landfill, process, fuel, net = (values for _, values in main[5:9])
    for j in range(3):
        assert abs(received[j] - sum(t[j] for t in taken_off) - diverted[j]) < 1e-6
        assert abs(landfill[j] - process[j] - fuel[j] - net[j]) < 1e-6
    for _, (first, second, whole) in main[:9]:
        assert abs(first + second - whole) < 1e-6

    materials = numbers(materials_table(shown, scale, frozenset(), printer))
    adds_down(materials)
    for _, (first, second, whole, _) in materials:
        assert abs(first + second - whole) < 1e-6
    assert materials[-1][1][:3] == diverted and materials[-1][1][3] == received[2]

    *_, (_, years) = numbers_of_years(years_table(total, 1, scale, printer))
    assert years == [received[2], diverted[2]]
    left_out = left_out_table(total, scale, printer)
    if left_out is not None:
        adds_down(numbers(left_out))
    shares = numbers(known_table(period, total, printer))[:4]
    if len(shares) == 4:
        assert [sum(column) for column in zip(*(v for _, v in shares), strict=True)] == [100, 100]


def numbers_of_years(table: Table) -> list[tuple[str, list[float]]]:
    """Return a table of years without its column of days, its rows adding up."""
    rows = [
        dataclasses.replace(row, cells=row.cells[1:])
        for group in table.groups
        for row in group.rows
    ]
    group = dataclasses.replace(table.groups[0], rows=tuple(rows))
    found = numbers(dataclasses.replace(table, groups=(group,)))
    adds_down(found)
    return found


@settings(max_examples=15, deadline=None)
@given(st.lists(MATERIAL, min_size=1, max_size=12))
def test_the_mix_comes_to_the_boards_own_numbers(masses: list[tuple[float, float, float]]) -> None:
    now = figures(statements.YEAR, masses)
    printer, look = statements.printer_of(statements.SITE), statements.look()
    board = Board(BoardFigures(now), statements.SITE, statements.BANDS, printer, look,
                  site_scope(now, printer), False)  # fmt: skip
    section = mix_section(board)
    if section is not None:
        adds_down(numbers(section.tables[0]))
