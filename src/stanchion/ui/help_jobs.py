"""The help on runs, upkeep, jobs and what lies behind them."""

from __future__ import annotations

RUNS = """\
Marker: deepest point reached, from the hanging wheel or from static sag.
Used of available: available is full travel less rigid packers.
Near full travel the remedies come in the order of the trade: air gap or
compression damping first, springs last; if rider sag is too large, preload
first. A lap is typed 1:32.4, or 1.32.4 on a number pad; the time at which
a run began 09:40, 9.40 or 0940. PgUp and PgDn lead to other runs. A run is
logged with the settings as they are now. If they were changed since the
run before, or after the time at which this one began, you are asked which
it was ridden with: ^R takes the settings before the last change; pressed
again, those of an earlier run or as found, then those set now.
One change with proof: ^A on the trial screen puts what is tried on the
work list; ticked there, or applied with F7, it waits for its run. Once
that is logged, ^K asks the rider: b better, s the same, w worse, with
change, lap and travel of both runs beside it. The verdict stays with the
run; ^K again changes or deletes it. After worse, the work list can take
the change back. Two changes for one run are warned about: which helped is
then not known. Tyres: (gauge + pressure outside) / (temperature + 273.15
°C) stays the same. The pressure outside goes by barometer or altitude,
without either by sea level (1.013 bar); ~ means the tyre is taken to be as
warm as the air. F7 logs a run with the time and the settings as they are;
Enter on an empty field skips it. A run has a day, a session name and a
time. ^A asks for the rider's words: a few letters of what it does and
where choose the standard words, and ^S shows what to try; anything else
becomes the rider's own words. ^D deletes a run.
Below the run: what the marker calls for, what was changed since the run
before, and the cold tyre pressure that gives the hot one wanted."""


WHAT_TO_TRY = """\
^A on Runs, and the rider's words, lead here; ^S on Runs too.
Check first: what the readings of this job say on the complaint. Enter goes
to the reading. Then what to feel by hand. Then the changes that this
machine can take as it stands, in the order in which they are usually
tried, one at a time: Enter puts one on the work list, to be judged by the
next run; F7 puts it into a trial first.
Each has its amount, what it does to sag, fork travel on the brakes, rake,
trail and anti-squat as a trial computes it, and the complaint that would
say it went too far. A damper changes none of these figures.
Not now: changes that cannot be made, and why. Nothing is offered against
what the sag readings ask for, that takes a sag out of its target, that
brings a fault, or that softens an end which uses all its travel.
Shakes, brake, bearing, loose: an inspection, never a setting.
The rows are common practice without a published source. Your own stand in
riders_words.toml in the config folder: copy the form of the program's own
data/riders_words.toml. A row that cannot be used is named with its line."""


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
