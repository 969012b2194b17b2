"""The ways in which a sheet may lie."""

from divert.site.model import LIES

AS_IT_STANDS, ON_ITS_SIDE, SLIPS, CALENDAR, DIARY = LIES
TURNED = (ON_ITS_SIDE, SLIPS, CALENDAR, DIARY)
