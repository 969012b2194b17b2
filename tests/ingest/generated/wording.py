"""How the crews of made-up yards word their sheets: written from scratch, not from the reader's lists."""

from __future__ import annotations

DATE = (
    "Date", "Pickup date", "Day", "When", "Date of haul", "Collected on", "Drop date", "Day picked up", "DATE (m/d/y)",
    "What day was it?", "Service date", "Date hauled", "Arrival", "Date of visit", "Run date",
)  # fmt: skip
SOURCE = (
    "From", "Site", "Stop", "Partner", "Kitchen", "Who gave it", "Location", "Account", "Source", "Dropped off by",
    "Which site?", "Donor", "Place", "Business name", "Where from",
)  # fmt: skip
MATERIAL = (
    "What", "Material", "Stream", "Contents", "Stuff", "Type of scraps", "What was in it", "Feedstock", "Kind", "Item",
    "Material type", "What kind",
)  # fmt: skip
NOTE = ("Notes", "Comments", "Remarks", "Anything odd?", "FYI", "Note", "Other comments", "Memo")
CREW = ("Initials", "Driver", "Crew", "Logged by", "Who", "Staff")
UNITS = {  # how a crew writes a unit of mass, and how many kg it is (NIST Handbook 44, Appendix C)
    "lb": 0.45359237, "lbs": 0.45359237, "lbs.": 0.45359237, "pounds": 0.45359237, "kg": 1.0, "kilos": 1.0,
}  # fmt: skip
WEIGHT = (
    "Weight ({u})", "{u}", "Weight in {u}", "Net {u}", "Scale reading ({u})", "How heavy ({u})", "Weight {u}",
    "Amount ({u})", "Total weight ({u})", "How many {u}?", "Weight, {u}", "Net weight ({u})",
)  # fmt: skip
COUNT = (
    "{c}s",
    "# {c}s",
    "# of {c}s",
    "How many {c}s",
    "No. of {c}s",
    "{c}s picked up",
    "Number of {c}s",
    "{c} count",
)
FILL = ("How full", "Fullness", "Fill level", "Full?", "Fill")
QUESTION = (
    "For this pickup, what was the total weight of {m} that you collected from the kitchen, after taking off the weight of "
    "the tote that it came in? Round to the nearest pound, please ({u})"
)

# Numbers that name things, and what is measured beside a load: none of them is an amount of it.
NUMBERED = (
    "Ticket", "Slip no.", "bag_nr", "Bin ID", "Cart #", "Truck", "Ref", "Route", "Dumpster", "Tote number", "Load",
    "Receipt", "Barrel nr", "Run", "Scale ticket #",
)  # fmt: skip
BESIDE = (
    ("Temp F", 20, 95), ("Outside temp", 20, 95), ("Moisture %", 40, 80), ("Meals", 120, 900), ("Guests", 40, 300),
    ("Miles", 3, 60), ("Odometer", 40100, 48800), ("Volunteers", 1, 9), ("Minutes", 10, 90), ("Pile temp (F)", 90, 160),
    ("Carbon added (scoops)", 1, 6), ("pH", 5, 8), ("Plastic bottles", 0, 9), ("Students", 20, 300),
)  # fmt: skip

# The heavier and the lighter of two weighings of one load, and what the difference is called.
PAIRS = (
    ("Gross {u}", "Tare {u}"), ("Full ({u})", "Empty ({u})"), ("Loaded weight ({u})", "Unloaded weight ({u})"),
    ("Start weight ({u})", "End weight ({u})"), ("1st weigh ({u})", "2nd weigh ({u})"),
    ("With tote ({u})", "Tote only ({u})"), ("Weight w/ cart ({u})", "Cart weight ({u})"),
    ("On scale ({u})", "On scale after dumping ({u})"), ("Truck heavy ({u})", "Truck light ({u})"),
    ("Weight before ({u})", "Weight after ({u})"), ("Tote + scraps ({u})", "Tote empty ({u})"),
    ("Coming in ({u})", "Going out ({u})"), ("Weight A ({u})", "Weight B ({u})"),
)  # fmt: skip
NET = (
    "Net ({u})",
    "What we got ({u})",
    "Scraps only ({u})",
    "Actual {u}",
    "Net weight ({u})",
    "Difference ({u})",
)
# What a kitchen knows of its food; only the last of each is what came to the yard.
COURSES = (
    ("Prepared ({u})", "Served ({u})", "Wasted ({u})"), ("Cooked ({u})", "Eaten ({u})", "Scraps ({u})"),
    ("Bought ({u})", "Used ({u})", "Tossed ({u})"),
)  # fmt: skip
# What else the givers threw away that day; the first of each is what came to the yard.
STREAMS = (
    ("Food scraps ({u})", "Landfill trash ({u})", "Recycling ({u})"), ("Food scraps ({u})", "Trash ({u})"),
    ("Food scraps ({u})", "Garbage ({u})", "Bottles & cans ({u})"), ("Food scraps ({u})", "Landfill ({u})"),
)  # fmt: skip
TOTALS = (
    "Total",
    "TOTAL",
    "Totals",
    "Grand total",
    "Sum",
    "Month total",
    "Total for the month",
    "TOTAL LBS",
    "All together",
)
ACROSS_TOTAL = ("Total ({u})", "Total", "Day total", "All ({u})")
CARRIED = (
    "Carried over from last sheet", "Balance brought forward", "Bal. fwd", "Brought fwd from 2024", "Opening balance",
    "From previous page", "Previous balance", "c/f from Feb", "Already reported", "Start of year figure",
)  # fmt: skip
AGAINST = (  # what crews write beside a load that was none
    "returned to sender", "pickup cancelled", "test entry, ignore", "never arrived", "cancelled", "void", "not delivered",
    "typo - see next row", "duplicate of above", "went to landfill instead", "sent back to hotel", "entered by mistake",
    "wrong day, see below", "we did not take this", "scratch that", "ended up in the trash", "test", "truck never made it",
    "double entry", "refused, too much plastic", "do not use", "load turned around at gate", "please delete",
)  # fmt: skip
HARMLESS = (
    "wet", "smelly", "extra napkins", "after the gala", "Bob drove", "frozen", "mostly melon rinds", "rained all day",
    "lids cracked", "new crew", "heavy!", "short route", "good stuff", "big event Friday", "picked up late", "two helpers",
    "gate code 4417", "holiday menu", "a bit of plastic, picked out", "first pickup of the month", "no problems",
)  # fmt: skip
TITLES = (
    "Green Team tracking", "Organics pickups 2025", "Compost crew log", "Weekly haul sheet", "Our scraps in 2025",
    "Kitchen collections", "Pickup log - keep this up to date!", "Yard log book",
)  # fmt: skip
REMARKS = (
    "Scale recalibrated", "please write neatly", "New driver from here on", "(second page)", "Holiday week", "short crew",
    "remember to wash the totes", "Rain", "Moved to the new yard",
)  # fmt: skip
FOOTERS = (
    "Questions? ask at the yard office",
    "Weights are from the floor scale.",
    "* = estimated",
    "Printed on recycled paper",
)
FILES = (
    "log 2025", "pickups", "Zero waste trash-to-compost program", "tracking sheet v3", "Compost 2025 FINAL", "crew log",
    "Trash diversion 2025", "organics", "Harvest kitchen pickups", "data", "From the school", "spring",
)  # fmt: skip
UNKNOWN_SOURCES = (
    "Olive Street Deli", "Maple Elementary", "Brook Hollow Apartments", "Tanner's Bakery", "Senior Center", "Pine Grove Cafe",
    "Unit 4B", "Riverside Coffee Bar", "St. Alban's Hall",
)  # fmt: skip
UNKNOWN_MATERIALS = ("brewery mash", "bakery returns", "noodle water", "sour dough starter")
