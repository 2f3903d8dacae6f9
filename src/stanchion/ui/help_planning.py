"""The help on prediction, balance, trials and the list of springs."""

from __future__ import annotations

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
From the side : Tab goes on from the forces to the machine with its rider,
                on the brakes and on the gas, to scale, with its numbers.
                Swingarm, chain and linkage are drawn once they are
                entered. Where the yokes are is not recorded: the top of
                the leg is not.
There is a warning where trail is more than 5 mm less, or rake more than 1°
steeper, than as measured or last ridden; in a trial too.
On 120 columns and 40 lines the machine is drawn from the side, to scale:
rake, trail, wheelbase, the load under each wheel, and on both travels the
sags and the deepest run."""


BALANCE = """\
F7 on Prediction leads here.
Centre of mass: ahead of the rear axle = wheelbase x front scale / both
scales, level. ± is the expanded uncertainty, about 95 %.
Its height, by lifting the front, ^R in steps: two people, rear wheel
chocked, machine tied down, nobody under it; never the rider aboard
without help. At the end it says what would make it better known.
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
brakes, now and then.
To leave 10 mm of fork travel (common practice, no published source) at the
braking ridden, else at that looked at: the air gap with its oil, the next
rate that is sold, or the pressure of an air fork, each with front sag. The
worse of a slow and a fast stroke counts. ± (95 %) is from the fork
markers, read to 2 mm (common practice), and the height of the centre of
mass; where it is larger than the change, make the readings surer first."""


GAS = """\
^D on Prediction and on Balance leads here; ^R asks for one reading after
another.
Measured upright on both wheels: pivot to axle with a tape, the heights of
pivot and front sprocket above the ground, and with plumb lines how far the
sprocket is ahead of the pivot. Where the pivot's height cannot be had, a
gauge along the swingarm will do. Say in which state it was measured: as
geometry, or alone or with rider, with the sags then. It is turned from
there to rider sag.
Chain line  : the upper run, tangent to both pitch circles, with radius
              pitch / (2 sin(180° / teeth)).
Squat line  : from the rear contact to where the chain line meets that of
              the swingarm. Load transfer line: height / wheelbase.
Anti-squat  = tan(squat) / tan(transfer). Over 100 % the rear rises on the
              gas, under it squats (Cossalter, Motorcycle Dynamics).
Track machines sit near 100 % with the sag of a corner exit: common
practice, no published source. The trend from one setup to the next matters
more than the number.
Rear rises  : by what the spring carries, load transfer x (1 - anti-squat);
minus where it squats. The fork extends; rake, wheelbase and height follow,
until nothing changes.
Front wheel lifts: no load is left on it; a = g x ahead / height.
Small changes: points of anti-squat, and how much more the rear rises. A
tooth moves the axle with the same chain; the motion ratio stays as it is.
Chain       : links needed where pivot, axle and sprocket lie on one line;
              L/p = 2C/p + (z1+z2)/2 + (z2-z1)² p/(4 pi² C) (Shigley).
Without acceleration to look at: 0.5 g on the track, 0.3 g elsewhere (by
common practice, no published source). Steady: no air drag, no damping,
rigid tyres; the fork's air has time to cool."""


TRY = """\
A trial is a copy of the job. Now: as the job is; then: with what is tried,
marked ◂ where they differ. Sag is shown as measured now and as expected
then; where it was not measured, or is in doubt, as predicted. If you try
another rider's mass, the scales still show the earlier rider.
Changes over at: travel at which two springs change over, now and then.
On the brakes: in a slow stroke; F7 on Prediction has a fast one too.
~ marks what rests on an estimate.
Vertical rise: how much higher that end is. ^A puts what is tried on the
work list, to be ticked when it is done. F7 makes the trial part of the
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
