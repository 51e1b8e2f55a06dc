"""What the shop makes, how long it takes and what it costs."""

from ledgewright.shop.bill import bill
from ledgewright.shop.cutting import Cutting, Sheets, cutting
from ledgewright.shop.days import A_DAY, Calendar, Days, Done, NeverDoneError, Waited, clock
from ledgewright.shop.finishing import Coat, Finishing
from ledgewright.shop.gluing import (
    CAUL,
    Cauls,
    GlueUp,
    InSlots,
    Pressing,
    Setting,
    glue_up,
    in_slots,
)
from ledgewright.shop.model import Bill, Line, Made, Part, Priced, needs_two
from ledgewright.shop.needs import Counted, Need, SheetCount, adhesive_in_hole, adhesive_in_slot
from ledgewright.shop.parts import parts
from ledgewright.shop.price import UNITS, outlay
from ledgewright.shop.sawn import Bars, Boards, Item, Strips
from ledgewright.shop.tasks import VISITS, After, Task, hour_lines, visits
from ledgewright.shop.waits import TooColdError, comb, wait, work_time
from ledgewright.shop.work import Work, bill_of, schedule, work

__all__ = [
    "A_DAY",
    "CAUL",
    "UNITS",
    "VISITS",
    "After",
    "Bars",
    "Bill",
    "Boards",
    "Calendar",
    "Cauls",
    "Coat",
    "Counted",
    "Cutting",
    "Days",
    "Done",
    "Finishing",
    "GlueUp",
    "InSlots",
    "Item",
    "Line",
    "Made",
    "Need",
    "NeverDoneError",
    "Part",
    "Pressing",
    "Priced",
    "Setting",
    "SheetCount",
    "Sheets",
    "Strips",
    "Task",
    "TooColdError",
    "Waited",
    "Work",
    "adhesive_in_hole",
    "adhesive_in_slot",
    "bill",
    "bill_of",
    "clock",
    "comb",
    "cutting",
    "glue_up",
    "hour_lines",
    "in_slots",
    "needs_two",
    "outlay",
    "parts",
    "schedule",
    "visits",
    "wait",
    "work",
    "work_time",
]
