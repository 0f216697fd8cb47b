"""What every sheet that may be printed says about safety."""

from __future__ import annotations

__all__ = ["CAUTIONS"]

CAUTIONS = (
    "Take care. Close the blade after every cut. Cut away from yourself, along a ruler, on a mat; fingers off the "
    "ruler's edge; never over pins; wrap old blades before they go in the bin. Cutters out of children's reach; "
    "the mat flat, out of heat and sun. Iron: rest it on its heel, mind cord and steam, unplug it. Hands off a "
    "moving hoop; needles break, so shield your eyes. Spray glue: fresh air, no flame. Magnets: 15 cm (6 in) away "
    "from heart implants. Cot quilts and hangings in public rooms: local rules decide. The instructions of the "
    "makers of your tools and materials, local rules and licensed practice come before this sheet."
)
