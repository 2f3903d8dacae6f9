"""What the help screen says besides the keys: a part for each screen, which that screen shows first.

Lines are no longer than a window of eighty columns shows whole.
"""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.ui.help_damping import DAMPING
from stanchion.ui.help_jobs import EARLIER, JOBS, RUNS, STORY, UPKEEP, WHAT_TO_TRY, WORK_LIST
from stanchion.ui.help_linkage import LINKAGE
from stanchion.ui.help_planning import BALANCE, GAS, PREDICTION, SPRINGS, TRY
from stanchion.ui.help_setup import ADJUSTERS, DAMPERS, FORK_AND_SHOCK, MACHINE, REAR, SAG, STEPS

WIDTH = 75
"""Beside the frame and the scroll bar of a window of eighty columns."""


@record
class HelpPart:
    """One part of the help."""

    title: str
    text: str
    screens: tuple[str, ...] = ()
    """The screens it explains, by their names in the table of keys."""


TYPING = """\
Enter, Down    the next field in the column       Up   the one above
Tab            the next field across              ^Home, ^End  first, last
Left, Right    at the end of a text: the next field sideways
PgDn, PgUp     the next section of a form, and back; its heading stays in
               sight. On the runs: an older run, a newer one.
+ and −        step a number, change a choice (Space does too; so do its
               first letters)
^Down, ^Up     the next page of figures, where one says "… more: ^Down"
^A             the next reading a figure waits for, on screens that name it

A bare number is in the unit shown. A unit may be typed: 9.5 in, 9 7/8 in,
0.95 kg/mm (kilogram-force), 54 lb/in, 175 lb. The field then shows it
rounded in the unit shown (79.4); once the unit typed is the one shown, it
stands as it was typed. Comma and point are both decimal signs. The line
above the warnings shows how it was read. The number pad is enough to fill
a whole screen.
What cannot be read stays in the field, marked !, with the reason; the job
keeps the last good value. Backspace in a field just entered empties it.
Enter opens a text of several lines; a second Enter, Tab or Esc accepts
it. A figure that changed is marked for a moment. Messages, three at most,
cover the top lines until the next key. A key that does nothing on a screen
says where it works. A wrong key destroys nothing: ^Z undoes what it did.
Letters typed here search the help, also by other names of a term. Enter
here leads to worked pages: what each decision rests on, with an exercise
on a copy of a sample, which the program checks."""

CAUTIONS = """\
Fork caps and shock springs hold stored force: unload them first, use the
proper compressor, face away. Never open or heat a shock under gas
pressure. Support the machine so that it cannot fall.
The manufacturer's manual, local rules and a qualified technician's
judgement come before any number here. The program computes; it does not
approve a machine as safe."""

PARTS: tuple[HelpPart, ...] = (
    HelpPart("Machine", MACHINE, ("machine",)),
    HelpPart("Fork and shock", FORK_AND_SHOCK, ("front", "rear")),
    HelpPart("Wheel rate at the rear", REAR, ("rear",)),
    HelpPart("Linkage by points", LINKAGE, ("linkage",)),
    HelpPart("Sag", SAG, ("sag", "guide")),
    HelpPart("Adjusters", ADJUSTERS, ("adjusters",)),
    HelpPart("Frequency and damping", DAMPING, ("damping",)),
    HelpPart("Damper sheets", DAMPERS, ("dampers",)),
    HelpPart("One reading at a time", STEPS, ("guide",)),
    HelpPart("Prediction", PREDICTION, ("predict",)),
    HelpPart("Balance, and on the brakes", BALANCE, ("balance",)),
    HelpPart("On the gas", GAS, ("gas",)),
    HelpPart("Try a change", TRY, ("trial",)),
    HelpPart("Springs to hand", SPRINGS, ("springs",)),
    HelpPart("Runs and tyres", RUNS, ("runs",)),
    HelpPart("What to try", WHAT_TO_TRY, ("what_to_try",)),
    HelpPart("Upkeep", UPKEEP, ("upkeep",)),
    HelpPart("Work list", WORK_LIST, ("worklist",)),
    HelpPart("Earlier states", EARLIER, ("earlier",)),
    HelpPart("A machine's story", STORY, ("story",)),
    HelpPart("Jobs", JOBS, ("jobs",)),
)
"""A part for each screen, in the order of the screens."""
