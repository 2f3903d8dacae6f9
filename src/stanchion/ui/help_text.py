"""What the help screen says besides the keys: a part for each screen, which that screen shows first.

Lines are no longer than a window of eighty columns shows whole.
"""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.wording.glossary import glossary_text

WIDTH = 75
"""Beside the frame and the scroll bar of a window of eighty columns."""


@record
class HelpPart:
    """One part of the help."""

    title: str
    text: str
    screens: tuple[str, ...] = ()
    """The screens it explains, by their names in the table of keys."""


MACHINE = """\
Scales: the load under each wheel, machine alone and with the rider aboard.
Unsprung: wheel, brakes and lower legs; at the rear half the swingarm.
Without scales: mass x share on the front wheel, an estimate, marked ~.
Load along the fork = (front scale - unsprung) x 9.80665 x cos(rake).
Trail = (tyre radius x sin(rake) - offset) / cos(rake); normal trail =
trail x cos(rake). Geometry measured: say in which state.
Beside the fields: the job at a glance. OLD: sag was read before preload
or springs were changed. Stale: chain or tyres are not those that were on."""

FORK_AND_SHOCK = """\
Installed preload = free length - set length with the adjuster fully out.
                    The band judges this figure, not preload now.
Range             = set length fully out - set length fully in.
Per turn          = range / turns in total, or the thread pitch.
Preload now       = installed preload + what the adjuster adds where it is.
Force now         = rate x preload now, of one spring.
Headroom out, in  = what the adjuster still gives towards less and towards
                    more preload, in mm and in turns.
Combined fork rate = the rates of both springs added, along the leg.
Gauge: fully out is on the left, fully in on the right; the heavy line is
what is turned in; dots mean it is not known. Turns and clicks count from
fully out; a click adds pitch / clicks in a turn. With rings or mm showing,
more showing is less preload. Leave "set length read at" empty if the
length was read with the adjuster fully out.
New spacer = old spacer + (old free - new free length)
             + (wanted - old installed preload), same washers and seats.
Preload does not make a spring stiffer: it raises the machine and takes
the same from both sags. Clicks and turns of damping count out from fully
in (closed).
The drawing, where there is room for it, runs along the leg or the shaft:
S static sag, R rider sag, M marker of the run, each to half a line.
Travel used is shaded, and darker on the bump rubber. At the rear, sag is
drawn as shaft travel."""

REAR = """\
Motion ratio m = shock travel / wheel travel, at one point of the travel.
Vertical wheel rate = k x m x m + Fs x dm/dz; with one ratio k x m x m.
Fs: spring and gas force along the shock; z: travel at the wheel.
Four pairs or more are joined by a monotone cubic (PCHIP), fewer by
straight lines. Beyond the last pair the ratio is not known."""

SAG = """\
L1: length with the wheel hanging clear. Down: pushed down and let rise
slowly. Up: lifted and let settle slowly.
Sag      = L1 - (down + up) / 2.
Stiction = up - down: friction. With too much, springs get no advice.
Repeat a reading in the next column; repeats are averaged. The first Down
and Up are one mounting: the rider gets off and on before the next two.
± is the expanded uncertainty: the true sag lies within it with about 95 %
confidence, by Student's t for the number of repeats and by the division
of the tape. A reading taken once is given a standard uncertainty of 1 mm
(common practice).
After two repeats that differ, a third helps most.
borderline (edge?): sag is nearer to the edge of its target than ±.
FRICTION: stiction is at fault. DOUBTFUL: readings are swapped or
impossible. TOPPED OUT: lifted, it stood within 2 mm of full extension.
Alone with a travel marker: enter down only. It is then not judged ok,
because sag is less by half the stiction, which is not known.
OLD: read before preload, spacers or springs were changed; measure again.
If you only corrected a length or rate: ^D on F3 or F4 when it asks.
Scale below: S static, R rider. The targets are shaded, static the
lighter. * means both are in one place, < and > beyond the scale."""

ADJUSTERS = """\
Clicks and turns of damping count out from fully in (closed), preload in
from fully out; the range is counted once from end to end.
Base: the setting that positions are compared with; without one, that of
run 1 is shown, in brackets beside others. F7: all as set now is base.
Ridden: the position in the latest run. Last change: what was turned last
between two runs, and the lap: − faster, + slower. Below: that change with
lap, travel used, the rider's words, and how much else was changed.
+ and − turn by a click or a quarter of a turn. ^End: the last line."""

STEPS = """\
^R on front, rear and sag asks for one reading after another, in the
order of the work, in large digits.
Enter takes the reading and goes on; Enter on an empty field skips it.
/ or Up: back to correct.        PgDn: the first one missing.
* or Tab: the same reading again, to be averaged; with washers and seats,
the next piece.                  F7: alone, with a marker.
A reading that looks swapped, far off its repeats or otherwise wrong is
questioned at once; Enter again keeps it. Esc leaves; ^R goes on at the
first reading missing, or at the field you had gone to."""

PREDICTION = """\
Springs, top-out spring, trapped air and gas balance the load on each
wheel; sag counts from the hanging wheel. Scale readings are used before
mass x share. What is not entered is left out and named.
Difference    = measured - predicted.
Into target   : the least work that brings both sags in: turns, else a
                spacer that keeps installed preload in its band, else a
                spring. The measured sags correct the loads; without
                any the advice is called predicted.
Rate measured = change of load along the sag / change of sag.
Calculated    = what the springs give there. Front: both springs, along
                the leg; rear: at the wheel, vertically.
At full       : force at full travel, the air's part of it, and the force
                with an air gap 5 mm smaller and larger. Slow: the air
                keeps its temperature (n = 1); fast: it heats (n = 1.4).
Left at full  = free - solid length - (greatest preload + full travel).
                Under 3 mm is a fault; under the gaps wanted by
                EN 13906-1, a warning.
By coils      = G d^4 / (8 D^3 n): wire d, mean diameter D, active coils n.
Rake and trail: the frame is tilted exactly from the baseline; nose down
makes the rake smaller."""

TRY = """\
A trial is a copy of the job. Now: as the job is; then: with what is tried,
marked ◂ where they differ. Sag is shown as measured now and as to expect
then; where it was not measured, or is in doubt, as predicted. If you try
another rider's mass, the scales still show the earlier rider.
Vertical rise: how much higher that end is. F7 makes the trial part of the
job, ^R drops it; ^Z takes back either."""

SPRINGS = """\
First the rate that puts rider sag in the middle of its target, with
installed preload in its band and the adjuster half in. Below it the
springs to hand, or standard steps: best first, by both sags and by how
near the middle the adjuster is.
static, rider: the sags to expect, mm.     turns: from fully out.
to in: turns left to fully in.             inst.: installed preload, mm.
bind: mm left at full travel with the adjuster fully in.
×2: a pair. *: of another length, so with another spacer."""

RUNS = """\
Marker: deepest point reached, from the hanging wheel or from static sag.
Used of available: available is full travel less rigid packers.
Near full travel the remedies come in the order of the trade: air gap or
compression damping first, springs last; if rider sag is too large,
preload first. ^R says a run was ridden with the settings as they are now.
A lap is typed 1:32.4, or 1.32.4 on a number pad. PgUp and PgDn lead to
newer and older runs.
Tyres: (gauge + 1.013 bar) / (temperature + 273.15 °C) stays the same; the
air pressure is that of sea level; ~ means the tyre is taken to be as warm
as the air."""

UPKEEP = """\
Hours since: hour meter now - hours at the last service.
Gear ratio = rear teeth / front teeth. Stale: chain or tyres are not those
that were on when motion ratio or geometry were measured; measure
them again and enter them, or press ^R if the values are the same."""

STORY = """\
Occasions and runs in time order. Changed: since the row before; for a
first run, since the occasion before. Used: the deepest marker, as a share
of the travel. In the plots of sag the target is dotted. ^Up and ^Down
scroll the chosen row. F7 marks a row, ^K compares the chosen row with it,
or with the open job if no row is marked."""

JOBS = """\
Type to filter. Worst: the worst warning of a job. F8 begins the next job
from the chosen one: its setup is kept, readings and notes start empty.
^D moves a job to the bin, F7 shows the bin and empties it."""

WORK_LIST = """\
What to turn, which way and how far, to bring the machine back to the
setup of a run or of another job. Space ticks a line and enters its value
in the job; on a ticked line Space takes both back."""

EARLIER = """\
The job is kept as it was before the first change of a session and every
two minutes of work: the last ten states, and one an hour. Enter
brings one back; ^Z takes that back."""

TYPING = """\
Enter, Down    the next field in the column       Up   the one above
Tab            the next field across              ^Home, ^End  first, last
Left, Right    at the end of a text: the next field sideways
PgDn, PgUp     the next section of a form, and back; its heading stays in
               sight. On the runs: an older run, a newer one.
+ and −        step a number, change a choice (Space does too)
^A             the next reading that a figure waits for, on any screen

A bare number is in the unit shown. A unit may be typed: 9.5 in, 9 7/8 in,
0.95 kg/mm (kilogram-force), 54 lb/in, 175 lb. Comma and point are both
decimal signs. The line above the warnings shows how it was read.
What cannot be read stays in the field, marked !, with the reason; the job
keeps the last good value. Backspace in a field just entered empties it.
Enter opens a text of several lines; a second Enter, Tab or Esc accepts
it. Every accepted edit is saved by itself within a second; Undo goes
back over the whole job."""

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
    HelpPart("Sag", SAG, ("sag", "guide")),
    HelpPart("Adjusters", ADJUSTERS, ("adjusters",)),
    HelpPart("One reading at a time", STEPS, ("guide",)),
    HelpPart("Prediction", PREDICTION, ("predict",)),
    HelpPart("Try a change", TRY, ("trial",)),
    HelpPart("Springs to hand", SPRINGS, ("springs",)),
    HelpPart("Runs and tyres", RUNS, ("runs",)),
    HelpPart("Upkeep", UPKEEP, ("upkeep",)),
    HelpPart("Work list", WORK_LIST, ("worklist",)),
    HelpPart("Earlier states", EARLIER, ("earlier",)),
    HelpPart("A machine's story", STORY, ("story",)),
    HelpPart("Jobs", JOBS, ("jobs",)),
)
"""A part for each screen, in the order of the screens."""
GENERAL: tuple[HelpPart, ...] = (
    HelpPart("Moving and typing", TYPING),
    HelpPart("Words", glossary_text(WIDTH)),
    HelpPart("Cautions", CAUTIONS),
)
