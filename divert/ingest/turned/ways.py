"""The ways in which a sheet may lie that is no table as it stands."""

ON_ITS_SIDE = "on its side"
SLIPS = "slips"
CALENDAR = "calendar"
DIARY = "diary"
TURNED = (ON_ITS_SIDE, SLIPS, CALENDAR, DIARY)
