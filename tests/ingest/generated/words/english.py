"""How crews that write English word their sheets: written from scratch, not from the reader's lists."""

from __future__ import annotations

SOURCES = {  # as site.toml knows them (corpus/book.py): the name, and what crews write
    "Quillmarsh School kitchen": ("Quillmarsh", "school", "Quillmarsh School kitchen"),
    "Harborside Hotel": ("Harborside Hotel", "hotel", "HARBORSIDE HOTEL"),
    "The Copper Ladle": ("Copper Ladle", "The Copper Ladle", "ladle"),
    "Petal and Stem Florist": ("florist", "Petal and Stem Florist", "Petal & Stem Florist"),
}
MATERIALS = {
    "kitchen scraps": ("food scraps", "Food waste", "kitchen scraps"),
    "coffee grounds": ("coffee", "Coffee grounds"),
    "leaves": ("leaves", "Leaves"),
    "cut flowers": ("cut flowers", "florist waste"),
}
FOOD = "kitchen scraps"
CONTAINERS = {"tote": ("tote", "totes"), "pail": ("pail", "pails"), "cart": ("cart", "carts")}
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
NOTE = (
    "Notes",
    "Comments",
    "Remarks",
    "Anything odd?",
    "FYI",
    "How it went",
    "What happened",
    "Said the driver",
    "Note",
    "Other comments",
    "Memo",
)
CREW = ("Initials", "Driver", "Crew", "Logged by", "Who", "Staff")
OWN_UNITS = ("lb", "lb", "kg")  # in a column of units
VOLUMES = {  # how a crew writes a unit of volume, and how many m3 it is (NIST Handbook 44, Appendix C)
    "cubic yards": 0.764554857984, "yd3": 0.764554857984, "cu yd": 0.764554857984, "yd³": 0.764554857984,
    "gallons": 0.003785411784, "gal": 0.003785411784, "L": 0.001, "liters": 0.001,
}  # fmt: skip
VOLUME = ("Volume ({u})", "{u}", "How much ({u})", "Volume in {u}", "{u} dropped", "Amount ({u})")
BOXES = (
    ("Container", "How many"),
    ("Type of bin", "Qty"),
    ("What it came in", "Number"),
    ("Bin", "#"),
)
IN_THE_CELL = ("Amount", "Weight", "How much", "Quantity")
UNIT_COLUMN = (["Amount", "Unit"], ["Qty", "Units"], ["How much", "lb or kg?"])
NAMED = ("{m} ({u})", "{u} of {m}", "{m} - {u}")
GUESS = (
    ("Guess ({u})", "Scale ({u})"), ("Est. {u}", "Actual {u}"), ("Crew estimate ({u})", "Weighed ({u})"),
)  # fmt: skip
FILLS = (("3/4", 0.75), ("full", 1.0), ("half", 0.5), ("80%", 0.8))
STREAM_TOTAL = "Total ({u})"
DRESSED = ("{}", "{}", "{}:", "** {} **", "{} (weekly)", "{} - spring")
INITIALS = ("RT", "Ana", "JB")
TABS = ("Log", "Sheet1", "2025", "Pickups", "data")
SUMMARY = ("Summary", "Totals by site", "Year so far", "For the board")
MONTH_FILES = ("{m} 2025", "log {m} 2025", "2025-{n:02} pickups")
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December",
)  # fmt: skip
UNITS = {  # how a crew writes a unit of mass, and how many kg it is (NIST Handbook 44, Appendix C)
    "lb": 0.45359237, "lbs": 0.45359237, "lbs.": 0.45359237, "pounds": 0.45359237, "kg": 1.0, "kilos": 1.0,
}  # fmt: skip
WEIGHT = (
    "Weight ({u})", "{u}", "Weight in {u}", "Net {u}", "Scale reading ({u})", "How heavy ({u})", "Weight {u}",
    "Amount ({u})", "Total weight ({u})", "How many {u}?", "Weight, {u}", "Net weight ({u})",
)  # fmt: skip
COUNT = (
    "{c}", "# {c}", "# of {c}", "How many {c}", "No. of {c}", "{c} picked up", "Number of {c}", "{c} - how many",
)  # fmt: skip
FILL = ("How full", "Fullness", "Fill level", "Full?", "Fill")
SKIDS = (  # what is weighed with every load, told once
    "Everything is weighed on the skid, {n} {u}", "Barrow ({n} {u}) is still in these numbers", "Our dolly is {n} {u}",
    "NB the crate alone comes to {n} {u}", "Scale shows {n} {u} with nothing on it",
)  # fmt: skip
METERS = (
    "{m}, {u} to date", "{u} so far", "Year to date ({u})", "Grand sum {u}", "Up to now, {u}", "Cumulative {u}",
    "All {m} until today ({u})",
)  # fmt: skip
TWO_SCALES = (
    ("Our scale {u}", "Hauler's slip {u}"), ("Dock scale ({u})", "Yard scale ({u})"), ("Weighed here ({u})", "Weighed there ({u})"),
    ("Bathroom scale ({u})", "Ticket {u}"), ("{u} by us", "{u} by them"), ("Kitchen says ({u})", "Invoice {u}"),
)  # fmt: skip
QUESTION = (
    "For this pickup, what was the total weight of {m} that you collected from the kitchen, after taking off the weight of "
    "the tote that it came in? Round to the nearest pound, please ({u})"
)

# Numbers that name things, and what is measured beside a load: none of them is an amount of it.
NUMBERED = (
    "Ticket", "Slip no.", "bag_nr", "Bin ID", "Cart #", "Truck", "Ref", "Route", "Dumpster", "Tote number", "Load",
    "Receipt", "Barrel nr", "Run", "Scale ticket #", "Trip", "Haul", "Order of the day", "Stop no.", "Lift",
)  # fmt: skip
BESIDE = (
    ("Temp F", 20, 95), ("Outside temp", 20, 95), ("Moisture %", 40, 80), ("Meals", 120, 900), ("Guests", 40, 300),
    ("Miles", 3, 60), ("Odometer", 40100, 48800), ("Volunteers", 1, 9), ("Minutes", 10, 90), ("Pile temp (F)", 90, 160),
    ("Carbon added (scoops)", 1, 6), ("pH", 5, 8), ("Plastic bottles", 0, 9), ("Haul fee $", 20, 90), ("Cost ($)", 5, 60), ("Covers", 120, 500), ("Students", 20, 300),
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
    ("Came off the truck ({u})", "Went on plates ({u})", "For the worms ({u})"), ("On hand ({u})", "Sold ({u})", "Left ({u})"),
    ("Stocked ({u})", "Cut for bouquets ({u})", "Trimmings ({u})"),
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
CARRIED_OTHERWISE = (
    "Left from last month", "Jan's pile", "YTD before this sheet", "So far", "Up to here", "Running since Jan", "Prior",
    "From the old book", "What we had", "Pg 1", "Before new log", "Start", "Through Feb",
)  # fmt: skip
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
AGAINST_OTHERWISE = (  # the same, as other crews put it
    "they kept it after all", "not ours - the other yard's", "was for the Eastside garden", "bin was empty when we got there",
    "same as line 12", "on Tuesday's sheet too", "moved to Friday's line", "practice run", "made up for training",
    "turned out to be gravel", "concrete, not food", "goes on the other yard's tally", "left at the curb", "hold off on this",
    "gone to the pig farmer", "still on the dock", "hauled off by the city", "don't add this one", "omit", "skip this line",
    "belongs on the 2024 sheet", "pending", "planned for next week", "ask Ana before using this", "replaced by the line under it",
    "counted Monday", "this one got rained out and we came home empty",
    "nobody home so we turned the truck for home", "had to leave all of it on the porch again", "Dale's number, he was thinking of last week",
    "the neighbors' chickens had it before we came", "I think this is Bob's number again", "nothing was in them", "city took it first", "other truck has it",
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
REMARKS_OTHERWISE = (
    "back to normal hours", "North loop", "AM", "pm run", "week 2", "--- spring break ---", "ask Ana about the lids",
    "Route B", "new scale from here", "Site visit by the county", "Truck 2",
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
    "log 2025", "pickups", "Less to the landfill", "What we kept out of the garbage", "Sold on compost", "End of trash 2025",
    "Screening room and lobby", "Gas and scraps", "Class hours", "Zero waste trash-to-compost program", "tracking sheet v3", "Compost 2025 FINAL", "crew log",
    "Trash diversion 2025", "organics", "Harvest kitchen pickups", "data", "From the school", "spring",
)  # fmt: skip
UNKNOWN_SOURCES = (
    "Olive Street Deli", "Maple Elementary", "Brook Hollow Apartments", "Tanner's Bakery", "Senior Center", "Pine Grove Cafe",
    "Unit 4B", "Riverside Coffee Bar", "St. Alban's Hall",
)  # fmt: skip
UNKNOWN_MATERIALS = ("soy okara", "bakery returns", "noodle water", "sour dough starter")
