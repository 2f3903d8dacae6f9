"""The help on the screens that a setup is entered on, and on the guide."""

from __future__ import annotations

MACHINE = """\
Scales: the load under each wheel, machine alone and with the rider aboard.
Unsprung: wheel, brakes and lower legs; at the rear half the swingarm.
Without scales: mass x share on the front wheel, an estimate, marked ~.
Load along the fork = (front scale - unsprung) x 9.80665 x cos(rake).
Trail = (tyre radius x sin(rake) - offset) / cos(rake); normal trail =
        trail x cos(rake). Say in which state the geometry was measured.
Beside the fields: the job at a glance. OLD: sag was read before preload or
springs were changed. Stale: measured with another chain or other tyres.
Set up for: chooses the bands and targets. Soft-road is an old or
soft-sprung road fork that goes by its manual; profiles of your own go into
a file (see Files).
Own targets: each replaces the standard one once its lowest and highest
value are entered, and is shown with its source ("manual, page 31"). F7
restores the standard ones. F8 takes your own to the next job.
Venue notes: ^R keeps surface, bumps, altitude and conditions under the
name of the venue, for every job there, and names the run ridden best
there; F7 makes a work list of its setup.
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
                    Borderline: out of it by less than the ± of both
                    lengths; measure them again, with a caliper.
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
^D: how well your own readings repeat. In a study two people read the same
marks three times each in mixed order, earlier readings hidden. Analysis of
variance gives what repeats scatter by, and what people differ by at one
place and not at another: both are in one reading's uncertainty, used from
then on instead of 1 mm. What somebody reads too long everywhere drops out
of a sag. The job notes it, so it gives the same on every computer. L1 and
static sag go by the study of the machine alone, rider sag by the one with
the rider aboard.
There too a scale is calibrated with known masses: a line by least squares
through what it reads too high, with which all its readings are corrected.
The fields keep what was read. Off by more than 1 % or 1 kg is a warning.
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


DAMPERS = """\
What a dynamometer measured of a damper. F7 reads a file: CSV with the
shaft's speed and the force, one row a reading. Type its path (Tab
completes it), press Enter, and say which column is which: + and − step
through them, or type a column's number. Rebound is told by the sign of the
speed or of the force, or has a column of its own; the force's signs are
those in compression and in rebound. Comma or semicolon or tab, decimal
comma or point: as the file has it. Lines that cannot be read are counted
and named; nothing is guessed, and nothing is worked out from displacement
and time. The columns are kept for the other files of that folder. The job
keeps forces, the file's name and its SHA-256, and the file is attached.
Forces are against the motion, without the gas where that is known: read
with the shaft standing still, where the file has such lines; entered;
by the shock's pressure; or, an estimate, the mean of both strokes at
low speed. Signs by which the damper would push the way it is moved are
refused: the sheet was recorded the other way round. Choose the other
signs. Between the speeds measured a monotone curve is drawn, beyond
them there is no figure. < and >: the slope below and above 150 mm/s. A
click: what one click out changes. Of two sheets of one damper the later
shows its change from the earlier; * marks a change larger than the scatter
of the readings, which is known where the file holds repeats.
^Down: the next page, with the curves. ^D takes the sheet out. Terms as in
Dixon, The Shock Absorber Handbook (from memory)."""


STEPS = """\
^R on front, rear, sag, balance and on the gas asks for one reading after
another, in the order of the work, in large digits.
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
