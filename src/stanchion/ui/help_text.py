"""What the help screen says besides the keys: a part for each screen, which that screen shows first.

Lines are no longer than a window of eighty columns shows whole.
"""

from __future__ import annotations

from stanchion.base.record import record

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
trail x cos(rake). Say in which state the geometry was measured.
Beside the fields: the job at a glance. OLD: sag was read before preload
or springs were changed. Stale: measured with another chain or other tyres.
Set up for: chooses the bands and targets. Soft-road is an old or
soft-sprung road fork that goes by its manual; profiles of your own go into
a file (see Files).
Own targets: each replaces the standard one once its lowest and highest
value are entered, and is shown with its source ("manual, page 31"). F7
restores the standard ones. F8 takes your own to the next job.
Attached files, such as photographs and damper sheets: type a path; Tab
completes it where one name fits. Esc 0 opens one, copies one beside the
job, and names those that are missing.
When the rider's name is changed, the program asks: another rider clears
rider sag and the scales with the rider aboard, a corrected name nothing.
Where scales and a mass contradict each other, the prediction is in doubt
and gives no advice; measured sags stay valid."""

FORK_AND_SHOCK = """\
Installed preload = free length - set length with the adjuster fully out.
                    The band judges this figure, not preload now.
Range             = set length fully out - set length fully in.
Per turn          = range / turns in total, or the thread pitch.
Preload now       = installed preload + what the adjuster adds where it is.
Force now         = rate x preload now, of one spring.
Headroom out, in  = what the adjuster still gives towards less and towards
                    more preload, in mm and in turns.
Combined fork rate = the rates of both springs added, along the leg; it
leaves out top-out spring, rubber and trapped air, wherever they work.
Gauge: fully out is on the left, fully in on the right; the heavy line is
what is turned in; dots mean it is not known. Turns and clicks count from
fully out; a click adds pitch / clicks in a turn. With rings or mm showing,
more showing means less preload. Leave "set length read at" empty if the
length was read with the adjuster fully out.
Second spring: enter it below the coils. End to end, the softer one closes
first, on its stop or its coils, and the other then works alone; free
length is that of both with what is between them. Side by side, the second
one joins in after a gap.
New spacer = old spacer + (old free - new free length)
             + (wanted - old installed preload), same washers and seats.
Preload does not make a spring stiffer: it raises the machine and takes
the same from both sags. Clicks and turns of damping count out from fully
in (closed).
The drawing, where there is room for it, runs along the leg or the shaft:
S static sag, R rider sag, M marker of the run, each to half a line.
Travel used is shaded, and darker on the bump rubber. At the rear, sag is
drawn as shaft travel.
F7 on the front end enters the legs of the fork separately, or joins them
again. For a fork with one spring, enter the legs separately and say which
has none.
Sprung by air: these fields are below the oil and air of the fork.
Pressure, bore and chambers take the place of a coil spring. The advice
then says which pressure to set; the prediction shows what 0.1 bar, 10 °C
and 1000 m change. A leg whose chambers are not known is judged by its
readings alone.
Outer chamber: the second one that is squeezed. It pushes on an area of
its own, or a floating piston parts it from the main chamber; that piston
moves once the main chamber has the pressure of the outer one.
No rate marked: leave it empty. Wire, diameter and coils give one with ~.
Pairs of a tester, a linkage or a rubber: paste the lines, or drop the
file on the window: two columns; lines of headings are skipped.
A rubber or cone counts from where it touches, by its rate or its pairs;
the length of a hydraulic stop is not expected to be used.
Gauges read zero in the open air. Where the machine is carried to another
altitude, "Gas set at altitude" says where the gas of the shock was set;
air springs and the fork's air note the same of theirs.
^D says that the old length or rate, also of the second spring, was
measured wrong: sag and runs taken before stay valid with the new one.
Otherwise the new one counts as another part, and sag must be measured
again."""

REAR = """\
Motion ratio m = shock travel / wheel travel, at one point of the travel.
Vertical wheel rate = k x m x m + Fs x dm/dz; with one ratio k x m x m.
k: rate of all that works along the shock there: spring, gas, bump rubber,
top-out spring; Fs: their force; z: travel at the wheel from the stop.
Four pairs or more are joined by a monotone cubic (PCHIP), fewer by
straight lines. Beyond the last pair the ratio is not known.
The uncertainty of measured pairs is carried into wheel rate and advice; a
pair that is off the curve is named."""

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
borderline (edge?): sag is so near the edge of its target that ± reaches
past it.
FRICTION: too much stiction. DOUBTFUL: readings are swapped or
impossible. TOPPED OUT: lifted, it stood within 2 mm of full extension.
Alone with a travel marker: enter down only. Sag then reads too large by
half the stiction, which is not known, so it is never called in target.
OLD: read before preload, spacers or springs were changed; measure again.
If you only corrected a length or rate, of the second spring too, press ^D
on F3 or F4 when asked.
Scale below: S static, R rider; s and r are predicted, where the sag read
is old. The targets are shaded, static the lighter. * marks both in one
place, < and > a sag beyond the scale.
Up to five repeats of each reading. F7 swaps the pushed-down and lifted-up
readings of the state you are in.
Where sag is far from the prediction, check the entered values first. Old
sag is not used as the machine's present position."""

ADJUSTERS = """\
Clicks and turns of damping count out from fully in (closed), preload in
from fully out; the range is counted once from end to end.
Base: the setting that positions are compared with; without one, that of
run 1 is shown, in brackets beside others. F7 makes what is set now the
base. Ridden: the position in the latest run. Last change: what was turned
last between two runs, and the lap: − faster, + slower. Below: that change
with lap, travel used, the rider's words, and how much else was changed.
+ and − turn by a click or a quarter of a turn. ^End: the last line.
From any screen ^X ^End - - turns the shock's rebound in by two clicks.
As found: ^R, before anything is touched, asks for tyre pressures,
heights, every adjuster and sag, one at a time; Enter on a figure takes it
as it is. They go into the job and into a separate record, which stays as
it is when the machine is changed. ^A instead records all that the job
holds now. The work list leads back to it, and the sheet prints it.
At its end the round lists what differs from how the last job left it. The
next job begins without this record."""

STEPS = """\
^R on front, rear and sag asks for one reading after another, in the
order of the work, in large digits.
Enter takes the reading and goes on; Enter on an empty field skips it.
/ or Up: back to correct.        PgDn: the first one missing.
* or Tab: the same reading once more, for the mean; of washers and seats
the next piece.                  ^K: drop this reading, or this piece.
F7: alone, with a marker.
The number pad is enough. A second spring that is entered on the form is
asked for after the main one, while both are out.
A reading that looks swapped, 3 mm off its repeats (common practice, no
published source) or otherwise wrong is questioned at once; Enter again
keeps it. Esc leaves; ^R goes on at the first reading that is missing or
old or, if there is none, at the field you left.
F8 takes L1 to the next job if fork height, shock length, axle mark and
top-out spring have not changed."""

PREDICTION = """\
Springs, top-out spring, trapped air and gas balance the load on each
wheel; sag counts from the hanging wheel. Scale readings are used before
mass x share. What is not entered is left out and named.
Difference    = measured - predicted.
Into target   : the least work to get there: turns, else a
                spacer that keeps installed preload in its band, else a
                spring. The measured sags correct the loads; without
                any the advice is called predicted.
Rate measured = change of load along the sag / change of sag.
Calculated    = what the springs give there. Front: both springs, along
                the leg; rear: at the wheel, vertically.
At full       : force at full travel, the air's part of it, and the force
                with an air gap 5 mm smaller and larger. Slow: the air
                keeps its temperature (n = 1); fast: it heats (n = 1.4;
                of a fork or shock sprung by air n = 1.3, with its range).
Left          = free - solid length - (preload + full travel), as set and
                with the adjuster fully in. Under 3 mm is a fault; under
                the gaps wanted by EN 13906-1, a warning.
By coils      = G d^4 / (8 D^3 n): wire d, mean diameter D, active coils n.
Wire works at : stress at full travel as set, with the factor of direct
                shear, in % of the wire's strength (Shigley, Table 10-4).
Oil           : how much 5 mm of air gap takes; the force with the gap to
                compare, drawn in grey; the gap that gives the reserve
                wanted (slow), and the one that leaves the travel wanted
                where the last run went deepest (fast, n = 1.3).
Stops         : where bump rubber and hydraulic stop begin, along the leg
                and the shaft. In the picture they are drawn as travel
                of the leg or the wheel. check prints oil and stops too.
Rake and trail: the frame is tilted exactly from the baseline; nose down
makes the rake smaller.
There is a warning where trail is more than 5 mm less, or rake more than 1°
steeper, than as measured or last ridden; in a trial too.
On 120 columns and 40 lines the machine is drawn from the side, to scale:
rake, trail, wheelbase, the load under each wheel, and on both travels the
sags and the deepest run."""

BALANCE = """\
F7 on Prediction leads here.
Centre of mass: ahead of the rear axle = wheelbase x front scale / both
scales, level. ± is the expanded uncertainty, about 95 %.
The form is in the order of the work and says beside it what to do.
Its height, by lifting the front: two people, rear wheel chocked, machine
tied down, nobody under it; never the rider aboard without help.
1 Block the suspension at ride height: solid struts or straps.
2 Brakes off, gearbox in neutral, fluids as ridden; rear wheel on its
  scale, level, then the front scale on blocks of known height.
3 Enter how far the front wheel stands above level and what its scale
  reads: at least 10°, about a quarter of a metre; better at several
  heights. A straight line against tan(angle) gives the height.
Without lifting, enter a height that you judge; if none is entered, 560 to
700 mm with the rider is taken (common practice, no published source). Both
are estimates, marked ~.
On the brakes: load moves to the front by m x a x height / wheelbase; along
the fork act (front load - unsprung) x cos(rake) and the braking force x
sin(rake). Both ends move, rake, wheelbase and height with them, until
nothing changes. Two figures: for a slow stroke (n = 1), and for one so
fast that the air keeps its heat (n = 1.4).
Steady braking with the front wheel: no air drag, no damping, rigid tyres,
a telescopic fork without anti-dive. On bumps the fork goes deeper.
Without braking to look at: 0.9 g on the track, 0.6 g elsewhere (common
practice, no published source). As ridden: the braking that the fork
markers of the last four marked runs stand for, each with its own
settings; F7 looks at their mean. A fork at its end says only that it was
at least that; beyond 1.2 g (common practice) it was bumps or a reading.
Travel counts from the hanging wheel, as
sag and a marker do. Try a change shows the fork and the trail on the
brakes, now and then."""

TRY = """\
A trial is a copy of the job. Now: as the job is; then: with what is tried,
marked ◂ where they differ. Sag is shown as measured now and as expected
then; where it was not measured, or is in doubt, as predicted. If you try
another rider's mass, the scales still show the earlier rider.
Changes over at: travel at which two springs change over, now and then.
Brakes, slow: fork travel used on the brakes in a slow stroke; F7 on
Prediction has a fast one too. ~ marks what rests on an estimate.
Vertical rise: how much higher that end is. F7 makes the trial part of the
job, ^R drops it; ^Z takes back either.
A trial is kept when you quit or open another job; the top line then says:
trial in hand."""

SPRINGS = """\
First the rate that puts rider sag in the middle of its target, with
installed preload in its band and the adjuster half in. Below it the
springs to hand, or standard steps: best first, by both sags and by how
near the middle the adjuster is.
static, rider: the sags to expect, mm.     turns: from fully out.
to in: turns left to fully in.             inst.: installed preload, mm.
bind: mm left at full travel with the adjuster fully in.
×2: a pair. *: of another length, so with another spacer.
9.00/4.00: two springs in one place; one that you choose replaces both.
^R gives one rate to replace springs whose rate changes: for the same rider
sag, and for the same force at full travel, with both force curves.
Enter tries a spring on a copy of the job. When F7 there makes it part of
the job, it comes off your stock, and the springs taken out go into it. F7
here edits your stock; without one, standard steps are offered."""

RUNS = """\
Marker: deepest point reached, from the hanging wheel or from static sag.
Used of available: available is full travel less rigid packers.
Near full travel the remedies come in the order of the trade: air gap or
compression damping first, springs last; if rider sag is too large,
preload first. A lap is typed 1:32.4, or 1.32.4 on a number pad; the time
at which a run began 09:40, 9.40 or 0940. PgUp and PgDn lead to other runs.
A run is logged with the settings as they are now. If they were changed
since the run before, or after the time at which this one began, you are
asked which it was ridden with: ^R takes the settings before the last
change; pressed again, those of an earlier run or as found, then those set
now.
Tyres: (gauge + pressure outside) / (temperature + 273.15 °C) stays the
same. The pressure outside goes by barometer or altitude, without either by
sea level (1.013 bar); ~ means the tyre is taken to be as warm as the air.
F7 logs a run with the time and the settings as they are; Enter on an empty
field skips it. A run has a day, a session name and a time. ^A opens the
rider's words, ^D deletes a run.
Below the run: what the marker calls for, what was changed since the run
before, and the cold tyre pressure that gives the hot one wanted."""

UPKEEP = """\
Hours since: hour meter now - hours at the last service.
Gear ratio = rear teeth / front teeth. Stale: motion ratio or geometry was
measured with another chain or other tyres; measure it again and enter it,
or press ^R if the values are the same.
F7 ticks a torque that has its value. Open torques head the hand-over
sheet."""

STORY = """\
Occasions and runs in time order; a run on another day than its occasion is
among the rows of that day. Changed: since the run before of the same
occasion; for a first run, since the occasion before. Used: the deepest
marker, as a share of the travel. In the plots of sag the target is dotted.
^Up and ^Down scroll the chosen row. F7 marks a row, ^K compares the chosen
row with it, or with the open job if no row is marked."""

JOBS = """\
Type to filter. Worst: the worst warning of a job. F8 begins the next job
from the chosen one: its setup is kept, readings and notes start empty.
^D moves a job to the bin, F7 shows the bin and empties it.
F8 asks venue, date, session, rider, the rider's weight in full gear, use
and altitude, with the last answers filled in; F8 again begins the next
job. Runs start empty too; for another rider, so do the scales with the
rider aboard, and the last rider's weight is asked about before it is kept.
No two rows look alike: a name that is cut is marked, and jobs of one day,
machine, rider and venue are numbered. ^K shows where the chosen job
differs from the open one. A job whose machine was set up differently in a
newer job says so when it is opened.
A damaged file is never written over: its newest whole state is offered as
a job of its own. Reading thousands of jobs shows its progress; Esc stops
it, F9 resumes it."""

WORK_LIST = """\
What to turn, which way and how far, to bring the machine back to the
setup of a run or of another job. Space ticks a line and enters its value
in the job; on a ticked line Space takes both back.
Choose a run of this job, or another job; those of this machine at this
venue come first. What cannot be set as it was says what to do instead. The
list is kept until F7 puts it away."""

EARLIER = """\
The job is kept as it was before the first change of a session and every
two minutes of work: the last ten states, the start of each session and one
an hour, at most 4 MB a job and 500 MB in all. Enter brings one back; ^Z
takes that back."""

TYPING = """\
Enter, Down    the next field in the column       Up   the one above
Tab            the next field across              ^Home, ^End  first, last
Left, Right    at the end of a text: the next field sideways
PgDn, PgUp     the next section of a form, and back; its heading stays in
               sight. On the runs: an older run, a newer one.
+ and −        step a number, change a choice (Space does too; so do its
               first letters)
^Down, ^Up     the next page of figures, where one says "more: ^Down"
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
Letters typed here search the help, also by other names of a term."""

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
    HelpPart("Balance, and on the brakes", BALANCE, ("balance",)),
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
