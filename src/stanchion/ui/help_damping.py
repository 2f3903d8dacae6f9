"""What the help screen says of frequency and damping."""

DAMPING = """\
^D on Adjusters leads here. At rider sag, for each end:
Wheel rate: vertical, at the wheel. Front: rate along the fork, its air
squeezed slowly, / cos²(rake). Rear: spring, gas and linkage there.
Sprung mass: what the springs carry with the rider aboard.
Frequency = root(wheel rate / sprung mass) / 2 pi: how often in a second
that end would swing without damping. Front to rear: the front's over the
rear's; how it has changed from what worked says more than the number.
Critical damping = 2 x root(wheel rate x sprung mass): the least damping
with which the end comes to rest without swinging past.
Beside it: the job this one was carried from, and the run with the best
lap, where it was set otherwise. For the same damping ratio as then,
damping goes by root(rate x mass now / rate x mass then): from 8.0 to 10.5
N/mm about 15 % more rebound. By springs and masses alone: how bumpy
the track is, tyres and grip are not in it.
Another spring with rebound as before is a warning until rebound is turned,
or F7 here says that it is right.
With a damper sheet (^R): the damping ratio, which is damping at the wheel
/ critical damping, in both strokes at two speeds of the wheel; and for
another spring where rebound should stand, in clicks out.
A frequency marked ~ rests on an estimate; the line below says what would
make it a measurement."""
