"""What the help screen says besides the keys: a part for each screen, which that screen shows first.

Lines are no longer than a window of eighty columns shows whole.
"""

from __future__ import annotations

from stanchion.base.record import record


@record
class HelpPart:
    """One part of the help."""

    title: str
    text: str
    screens: tuple[str, ...] = ()
    """The screens it explains, by their names in the table of keys."""


MACHINE = """\
Scales: what stands under each wheel, machine alone and rider aboard.
Unsprung: wheel, brakes and lower legs; at the rear half the swingarm.
Without scales: mass x share on the front wheel, an estimate, marked ~.
Load along the fork = (front scale - unsprung) x 9.80665 x cos(rake).
Trail = (tyre radius x sin(rake) - offset) / cos(rake); normal trail =
trail x cos(rake). Geometry measured: in which state it was taken.
Beside the fields: where the job stands. OLD: sag was read before preload
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
Combined fork rate = the rates of both springs added together, along the leg.
Gauge: fully out on the left, fully in on the right, the heavy line what
is screwed in; dots: not known. Turns and clicks count from fully out; a
click adds pitch / clicks in a turn. Rings or mm
showing: more showing is less preload. Leave "set length read at" empty
where the length was read with the adjuster fully out.
New spacer = old spacer + (old free - new free length)
             + (wanted - old installed preload), same washers and seats.
Preload does not make a spring stiffer: it raises the machine and takes
the same from both sags. Clicks and turns of damping count out from fully
in (closed).
Drawn where there is room, along the leg or the shaft: S static, R rider
aboard, M marker of the run, each to half a line; shaded: travel used,
darker: on the bump rubber. At the rear a sag is what the shaft goes in."""

REAR = """\
Motion ratio m = shock travel / wheel travel, at one point of the travel.
Wheel rate     = k x m x m + Fs x dm/dz; with one ratio k x m x m.
Fs: spring and gas force along the shock; z: travel at the wheel.
Four pairs or more are joined by a monotone cubic (PCHIP), fewer by
straight lines. Beyond the last pair nothing is known."""

SAG = """\
L1: length with the wheel hanging clear. Down: pushed down and let rise
slowly. Up: lifted and let settle slowly.
Sag      = L1 - (down + up) / 2.
Stiction = up - down: friction. Too much, and the springs get no advice.
Repeat a reading in the next column; repeats are averaged. With the rider
get off and on between them: the first Down and Up are one mounting.
± is the expanded uncertainty: sag is known to within so much, about 95 %
sure, by Student's t for the number of repeats, and the tape's division.
Read once, 1 mm is taken as its standard uncertainty (common practice).
Two repeats that differ say little: a third helps most.
borderline: nearer to the edge of its target than ±. FRICTION: stiction
at fault. DOUBTFUL: readings swapped or impossible. TOPPED OUT: below.
Alone with a travel marker: enter down only; that is not judged ok, as
sag is less by half the stiction, which is then not known.
OLD: read before preload, spacers or springs were changed. Measure again.
A length or rate only corrected: ^D on F3 or F4 while that is asked.
Scale below: S static, R rider; shaded are the targets, static the
lighter; * both in one place, < > beyond it."""

ADJUSTERS = """\
Clicks and turns of damping count out from fully in (closed), preload in
from fully out; the range is counted once from end to end.
Base: the setting that positions are compared with. Where none is entered
the first run's is shown instead. F7 takes every position as it is now.
Ridden: as in the latest run. Last change: before the latest run that was
ridden with another position; − faster, + slower. Below: that change with
lap, travel used and the rider's words, and how much else was changed.
+ and − turn by a click, or by a quarter of a turn. ^End: the last line."""

STEPS = """\
^R on front, rear and sag asks for one reading after the other, in the
order of the work, in large digits.
Enter takes it and goes on; an empty Enter passes over.
/ or Up: back to correct.        PgDn: the first one missing.
* or Tab: the same reading again, averaged; of washers and seats the next
piece.                           F7: alone, with a marker.
A reading that looks swapped, off its repeats or otherwise wrong is said
at once; Enter again keeps it. Esc leaves; it goes on at the first reading
missing, or at the field you had gone to."""

PREDICTION = """\
Springs, top-out spring, trapped air and gas balance the load on each
wheel; sag counts from the hanging wheel. Scales win over mass x share.
What is not entered is left out and named.
Difference    = measured - predicted.
Into target   : the least work that brings both sags in: turns, else a
                spacer that keeps installed preload in its band, else a
                spring. The loads are corrected by the measured sags;
                without any it is called predicted.
At work       = change of load along the sag / change of sag; By springs:
                what the springs give there.
At full       : force at full travel, of it the air's, and with an air gap
                5 mm smaller and larger. Slow keeps the air's temperature
                (n = 1), fast its heat (n = 1.4).
Left at full  = free - solid length - (greatest preload + full travel).
                Under 3 mm is a fault; under the gaps wanted by
                EN 13906-1, a warning.
By coils      = G d^4 / (8 D^3 n): wire d, mean diameter D, active coils n.
Rake and trail: the frame is tilted exactly from the baseline; nose down
makes the rake smaller."""

TRY = """\
A copy of the job. Now: as it is; then: with what is tried, ◂ where that
differs. Sag stands as measured now and as is to be expected then; where
it was not measured, or its readings are in doubt, as predicted. With
another rider's mass the scales' difference is the rider's before.
Rises: how much higher that end stands. F7 makes it part of the job, ^R
drops it; ^Z takes back either."""

SPRINGS = """\
The rate that gives rider sag in the middle of its target, with installed
preload in its band and the adjuster at mid; then the springs to hand, or
standard steps, best first by both sags and how central the adjuster is.
static, rider: the sags to expect, mm.     turns: from fully out.
to in: turns left to fully in.             inst.: installed preload, mm.
bind: mm left at full travel with the adjuster fully in.
×2: a pair. *: of another length, so with another spacer."""

RUNS = """\
Marker: deepest point reached, from the hanging wheel or from static sag.
Used of available: of the travel less rigid packers.
Near full travel: the remedies in the order of the trade, first the air
gap or compression damping, springs last; with rider sag too large preload
first. ^R says a run was ridden with the settings as they are now.
A lap is typed 1:32.4, or 1.32.4 on a number pad. PgUp and PgDn lead to
newer and older runs.
Tyres: (gauge + 1.013 bar) / (temperature + 273.15 °C) stays the same; the
air outside is taken at sea level; ~ the tyre is taken as warm as the air."""

UPKEEP = """\
Hours since: hour meter now - hours at which it was renewed.
Gear ratio = rear teeth / front teeth. Stale: chain or tyres are not those
that were on when motion ratio or geometry were measured; enter those
again, or ^R where they were measured and are still so."""

STORY = """\
Occasions and runs in time order. Changed: since the row before; a first
run since the occasion before. Used: deepest marker of the travel there
is. Dotted in the plots of sag: the target. ^Up, ^Down scroll the row in
hand. F7 marks a row, ^K compares it with the one in hand; without a mark
that one with the open job as it is now."""

JOBS = """\
Type to filter. Worst: the worst that is to be said of a job. F8 begins
the next job from the one in hand: its setup is kept, readings and notes
begin anew. ^D moves a job to the bin, F7 shows the bin and empties it."""

WORK_LIST = """\
What to turn, which way and how far, to come from the machine as it is to
the setup of a run or another job. Space ticks a line and enters the value
in the job; on a ticked line Space takes both back."""

EARLIER = """\
A state is kept before the first change of a session and every two minutes
of work: the last ten, and one of each hour. Enter brings one back; ^Z
takes that back."""

TYPING = """\
Enter, Down    the next field in the column       Up   the one above
Tab            the next field across              ^Home, ^End  first, last
Left, Right    at the end of a text: sideways
PgDn, PgUp     the next section of a form, and back; its heading stays in
               sight. On the runs: an older run, a newer one.
+ and −        step a number, change a choice (Space does too)
^A             the next reading that a figure waits for, on any screen

A bare number is in the unit shown. A unit may be typed: 9.5 in, 9 7/8 in,
0.95 kg/mm (kilogram-force), 54 lb/in, 175 lb. Comma and point are both
decimal signs. The line above the warnings shows how it was read.
What cannot be read stays in the field, marked !, with the reason; the job
keeps the last good value. Backspace in a field just entered empties it.
A text of several lines opens with Enter; a second Enter, Tab or Esc takes
it over. Every accepted edit is saved by itself within a second; Undo goes
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
GENERAL: tuple[HelpPart, ...] = (HelpPart("Moving and typing", TYPING), HelpPart("Cautions", CAUTIONS))
