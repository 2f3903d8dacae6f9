"""The help on the rear linkage by its points."""

from __future__ import annotations

LINKAGE = """\
F7 on the rear shock. Seen from the side: how the shock is moved, and
where the centres of its bolts lie. Read them in one position of the
swingarm, whichever it is: level and plumb from the swingarm pivot (ahead
and up count plus), or each by two lengths, from the pivot and from the
axle, or in a photograph taken from far away, square to the machine, the
camera level: pixels from the left and from the top. There the length of
the swingarm gives the scale, and the machine may look either way.
Linkage layout: straight (shock between swingarm and frame), rocker on
frame (link to the swingarm), rocker on swingarm (link to the frame).
Full extension: where the shock has its length eye to eye, with its
length adjuster added. Without that length the points count as read there.
Motion ratio  = how much shorter the shock gets for 1 mm of wheel travel,
                exact from the points. Progression: by how much it is
                higher at full travel than extended.
Axle back by  : the wheel path; minus: ahead of where it hangs.
Motion ratio from: points make wheel rate, sags, forces and drawings
follow from them. Pairs that differ by over 2 % are then a warning: one of
the two is wrong (2 %: common practice, no published source).
Length of the link: left empty, it is that of the points. Another one, here
or in a trial (^T), turns the rocker and moves ride height, ratio, rate,
sag, rake and trail. Enter the present length before you change it: then
the work list can ask for it back.
A link that comes into one line with the rocker reaches no further: that
is a fault, with the wheel travel where it happens. Parts count as rigid,
bearings as without play; a photograph is not corrected for its lens."""
