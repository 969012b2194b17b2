"""What every report must say about itself, in one place."""

from __future__ import annotations

from divert.core.words import N_, Text

ESTIMATE = Text(N_("An estimate, not a verified or tradable reduction."))
INVENTORY = Text(
    N_("Avoided emissions are not a deduction from anyone's greenhouse gas inventory.")
)
LATER = Text(N_("The methane avoided would have been released over the decades to come."))
OTHERS_COUNT = Text(N_("Others may also count this material: do not add their figures to these."))
LOCAL_RULES = Text(N_("Follow local rules on composting, labeling and environmental claims."))
NOT_SAFETY = Text(
    N_("Records are not evidence of pathogen reduction, product safety or compliance: worm beds do "
       "not reach the time and temperature that hot composting is held to.")
)  # fmt: skip

ALL = (ESTIMATE, INVENTORY, LATER, OTHERS_COUNT, LOCAL_RULES, NOT_SAFETY)
