"""Sheets that hold something else than intake."""

from __future__ import annotations

from pathlib import Path

from . import writers
from .book import (
    COFFEE,
    FOOD,
    FT3,
    GAL,
    HOTEL,
    LADLE,
    LB,
    LEAVES,
    SCHOOL,
    SHORT_TON,
    YD3,
    Entry,
    L,
    Truth,
    case,
    day,
)  # fmt: skip

CASTINGS = "worm castings"
COMPOST = "finished compost"


@case("harvest", "weigh-ins", "residue", "removed", "rejected", "moved")
def one_workbook_for_all(folder: Path) -> Truth:
    d = day("2025-03-03")
    writers.xlsx(folder / "farm.xlsx", {
        "Intake": [["Date", "Source", "Material", "lb"], [d, "hotel", "food scraps", 100]],
        "Harvest": [["Date", "Product", "How many", "Container", "Destination"], [d, "castings", 6, "pails", "Bed 4 at the school"], [day("2025-03-04"), "compost", "2 yd", None, "given away"]],
        "Weigh-ins": [["Date", "Source", "Material", "Container", "How many", "How full", "Net weight (lb)"],
                      [d, "hotel", "food scraps", "pail", 1, "full", 26.5], [d, "school", "food scraps", "tote", 1, "3/4", 98]],
        "Screening residue": [["Date", "Weight (lb)", "Notes"], [day("2025-03-10"), 14, "mostly stickers"]],
        "Contamination": [["Date", "Source", "Removed (lb)"], [day("2025-03-05"), "hotel", 3.5]],
        "Rejected loads": [["Date", "Source", "Material", "Qty", "Why"], [day("2025-03-06"), "hotel", "food scraps", "2 totes", "full of plastic"]],
        "Moved on site": [["Date", "Material", "Volume (yd3)", "To"], [day("2025-03-07"), "compost", 3, "Bed 1"]],
    })  # fmt: skip
    return Truth([
        Entry(d, HOTEL, FOOD, kg=100 * LB),
        Entry(d, None, CASTINGS, count=6, container="pail", kind="harvest", destination="Bed 4 at the school"),
        Entry(day("2025-03-04"), None, COMPOST, m3=2 * YD3, kind="harvest", destination="given away"),
        Entry(d, HOTEL, FOOD, kg=26.5 * LB, count=1, container="pail", fill=1.0, kind="weigh-in"),
        Entry(d, SCHOOL, FOOD, kg=98 * LB, count=1, container="tote", fill=0.75, kind="weigh-in"),
        Entry(day("2025-03-10"), kg=14 * LB, kind="residue"),
        Entry(day("2025-03-05"), HOTEL, kg=3.5 * LB, kind="removed"),
        Entry(day("2025-03-06"), HOTEL, FOOD, count=2, container="tote", kind="rejected"),
        Entry(day("2025-03-07"), None, COMPOST, m3=3 * YD3, kind="moved", destination="Bed 1"),
    ])  # fmt: skip


@case("fuel", "disposed", "sales", "activities", "money spent")
def what_else_funders_count(folder: Path) -> Truth:
    writers.xlsx(folder / "other.xlsx", {
        "Fuel": [["Date", "Fuel", "Gallons", "Equipment"], [day("2025-03-03"), "Diesel", 12, "loader"], [day("2025-03-04"), "gas", 3.5, "chipper"]],
        "Trash hauled": [["Date", "Hauler", "Weight (tons)"], [day("2025-03-05"), "county", 0.5]],
        "Sales": [["Date", "Product", "Bags", "Price per bag", "Total ($)"], [day("2025-03-06"), "castings", 10, 8, 80], [day("2025-03-07"), "compost", 4, 6.5, 26]],
        "Volunteers": [["Date", "Group", "Hours"], [day("2025-03-08"), "Scouts", 24.5], [day("2025-03-09"), "Rotary", "6 hrs"]],
        "Workshops": [["Date", "Event", "Visitors"], [day("2025-03-10"), "Bin building", 18]],
        "Expenses": [["Date", "What for", "Cost ($)"], [day("2025-03-11"), "thermometer", "$45.50"], [day("2025-03-12"), "straw", 30]],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), kind="fuel", name="diesel", amount=12 * GAL / L, unit="L"),
        Entry(day("2025-03-04"), kind="fuel", name="gasoline", amount=3.5 * GAL / L, unit="L"),
        Entry(day("2025-03-05"), kind="disposed", kg=0.5 * SHORT_TON),
        Entry(day("2025-03-06"), kind="sale", name=CASTINGS, count=10, container="bag", unit="bag", amount=80, currency="USD"),
        Entry(day("2025-03-07"), kind="sale", name=COMPOST, count=4, container="bag", unit="bag", amount=26, currency="USD"),
        Entry(day("2025-03-08"), kind="activity", name="volunteer hours", amount=24.5, unit="hours"),
        Entry(day("2025-03-09"), kind="activity", name="volunteer hours", amount=6, unit="hours"),
        Entry(day("2025-03-10"), kind="activity", name="workshop visitors", amount=18, unit="people"),
        Entry(day("2025-03-11"), kind="activity", name="spent", amount=45.5, currency="USD"),
        Entry(day("2025-03-12"), kind="activity", name="spent", amount=30, currency="USD"),
    ])  # fmt: skip


@case("in and out in one log", "rejected in notes", "before in the row", "void rows")
def one_log_for_in_and_out(folder: Path) -> Truth:
    writers.xlsx(folder / "log.xlsx", {"Log": [
        ["Date", "In/Out", "Who", "Material", "Cubic feet", "Went before", "Notes"],
        [day("2025-03-03"), "In", "hotel", "food scraps", 10, "landfill", None],
        [day("2025-03-04"), "In", "ladle", "coffee", 4, "compost", None],
        [day("2025-03-05"), "Out", None, "castings", 6, None, "to the market"],
        [day("2025-03-06"), "In", "school", "leaves", 8, None, "Rejected - glass in it"],
        [day("2025-03-07"), "In", "school", "leaves", 9, None, "VOID, entered twice"],
        [day("2025-03-08"), "In", "school", "leaves", 7, "the dump", None],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, m3=10 * FT3, before="landfill"),
        Entry(day("2025-03-04"), LADLE, COFFEE, m3=4 * FT3, before="composted"),
        Entry(day("2025-03-05"), None, CASTINGS, m3=6 * FT3, kind="harvest"),
        Entry(day("2025-03-06"), SCHOOL, LEAVES, m3=8 * FT3, kind="rejected"),
        Entry(day("2025-03-08"), SCHOOL, LEAVES, m3=7 * FT3, before="landfill"),
    ], skipped={"correction": 1})  # fmt: skip


@case("French sheets of other kinds", "decimal comma in numbers as text")
def french_kinds(folder: Path) -> Truth:
    writers.xlsx(folder / "registre 2025.xlsx", {
        "Récoltes": [["Date", "Produit", "Volume (m³)", "Destination"], [day("2025-03-03"), "lombricompost", "0,75", "marché"]],
        "Pesées": [["Date", "Matière", "Contenant", "Nombre", "Remplissage", "Poids net (kg)"], [day("2025-03-04"), "marc de café", "seau", 1, "plein", "11,2"]],
        "Refus de criblage": [["Date", "Poids (kg)"], [day("2025-03-05"), "6,5"]],
        "Carburant": [["Date", "Type de carburant", "Litres"], [day("2025-03-06"), "essence", "20,5"]],
        "Bénévoles": [["Date", "Activité", "Heures"], [day("2025-03-07"), "Corvée", "12,5"]],
    })  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), None, CASTINGS, m3=0.75, kind="harvest", destination="marché"),
        Entry(day("2025-03-04"), None, COFFEE, kg=11.2, count=1, container="pail", fill=1.0, kind="weigh-in"),
        Entry(day("2025-03-05"), kg=6.5, kind="residue"),
        Entry(day("2025-03-06"), kind="fuel", name="gasoline", amount=20.5, unit="L"),
        Entry(day("2025-03-07"), kind="activity", name="Corvée", amount=12.5, unit="hours"),
    ], site={"language": "fr"})  # fmt: skip


@case("weight and volume on one row")
def both_on_one_row(folder: Path) -> Truth:
    writers.xlsx(folder / "both.xlsx", {"Log": [
        ["Date", "Source", "Material", "Volume (gal)", "Weight (lb)"],
        [day("2025-03-03"), "hotel", "food scraps", 64, 250],
        [day("2025-03-04"), "hotel", "food scraps", 32, None],
    ]})  # fmt: skip
    return Truth([
        Entry(day("2025-03-03"), HOTEL, FOOD, kg=250 * LB, m3=64 * GAL),
        Entry(day("2025-03-04"), HOTEL, FOOD, m3=32 * GAL),
    ])  # fmt: skip
