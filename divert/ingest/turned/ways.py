"""The ways in which a sheet may lie that is no table as it stands."""

from divert.core.words import N_

ON_ITS_SIDE = N_("on its side")
SLIPS = N_("slips")
CALENDAR = N_("calendar")
DIARY = N_("diary")
TURNED = (ON_ITS_SIDE, SLIPS, CALENDAR, DIARY)
