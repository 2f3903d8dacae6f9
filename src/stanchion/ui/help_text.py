"""What the help screen says besides the keys."""

HELP = """\
MOVING AND TYPING
Enter, Down    next field in the column       Up        the field above
Tab            next field across              Left/Right at the end of a text: sideways
^A on machine, front, rear, sag, prediction: to the next reading that a figure waits for
PgUp, PgDn     a screenful                    ^Home ^End  first and last field
+ and -        step a number, change a choice (Space does too)

A bare number is in the unit shown. A unit may be typed: 9.5 in, 9 7/8 in, 0.95 kg/mm (kilogram-force),
54 lb/in, 175 lb. Comma and point are both decimal signs. The line above the warnings shows how it was read.
What cannot be read stays in the field, marked !, with the reason; the job keeps the last good value.
Every accepted edit is saved by itself within a second. Nothing needs saving; Undo goes back over the whole job.

FORK AND SHOCK
Installed preload  = free length - set length with the adjuster fully out. The band judges this figure.
Adjuster range     = set length fully out - set length fully in.      Per turn = range / turns in total.
Preload now        = installed preload + what the adjuster adds at its present position.
Preload force      = rate x preload now, per spring.
Left to out/in     = what the adjuster still gives towards less and towards more preload.
Gauge: fully out is on the left, fully in on the right, the heavy line what is screwed in; dots: not known.
Turns are counted from fully out. Rings or mm showing: more showing is less preload on a fork cap.
Leave "set length at" empty where the length was read with the adjuster fully out.
New spacer         = old spacer + (old free - new free) + (wanted installed - old installed), same washers.
Preload does not make a spring stiffer: it raises the machine and takes the same from both sags.
Drawn where there is room, along the leg or the shaft: S static, R rider aboard, M marker of the run, each to half a
line; shaded: travel used, darker: on the bump rubber. At the rear a sag is what the shaft goes in for it.
Clicks and turns of damping are counted out from fully in (closed).

WHEEL RATE AT THE REAR
Ratio m = shock travel / wheel travel at one point. Wheel rate = k m2 + Fs dm/dz (k m squared with one ratio).
Four pairs or more are joined by a monotone cubic (PCHIP), fewer by straight lines.

SAG
L1        length with the wheel hanging clear.     down  pushed down and let rise slowly.
up        lifted and let settle slowly.            sag = L1 - (down + up) / 2.     stiction = up - down.
Repeat a reading in the next column; repeats are averaged. +/- is the standard uncertainty: from the repeats
and the tape's division; 1 mm is taken where there is one reading only (common practice).
Alone with a travel marker: enter down only. There is then no stiction figure.
Scale below: S static, R rider; shaded are the targets, static the lighter; * both in one place, < > beyond it.

ONE READING AT A TIME
^R on sag, front and rear asks for one reading after the other, in the order of the work, in large digits.
Enter takes it and goes on; an empty Enter passes over.       / or Up: back to correct.
* or Tab: the same reading again, averaged; of washers and seats the next piece.   PgDn: the first one missing.
A reading that looks swapped, off its repeats or otherwise wrong is said at once; Enter again keeps it.
Esc leaves; it goes on at the first reading missing, or at the field you had gone to. F7: alone, with a marker.

PREDICTION
Load along the fork = (front scale - unsprung mass) x 9.80665 x cos(rake). Scales win over mass x share; a share is
an estimate and marked ~. Springs, top-out spring, trapped air and gas balance that load; sag counts from the hanging
wheel. What is not entered is left out and named. Difference = captured - predicted.
At work = change of load along the sag / change of sag, against what the springs give there.
Full travel: slow keeps the air's temperature (n = 1), fast keeps its heat (n = 1.4).
Rake and trail: the frame is tilted exactly from the baseline; nose down makes the rake smaller.
Try: a copy of the job. Apply makes it part of the job, drop forgets it. Springs: the rate needed, then those to hand.
Left at full travel = free - solid - (greatest preload + travel). Under 3 mm is a fault; under the gaps that
EN 13906-1 asks for, a warning.

RUNS AND TYRES
Used of available: from the hanging wheel to the deepest point, of the travel less rigid packers.
A lap is typed 1:32.4, or 1.32.4 on a number pad. PgUp and PgDn lead to newer and older runs.
Tyres: (gauge + 1.013 bar) / (temperature + 273.15) is constant; air is taken at sea level.
Stale: chain or tyres are not those that were on when motion ratio or geometry were measured.
A MACHINE'S STORY
Occasions and runs in time order. Changed: since the row before; a first run since the occasion before. Used: deepest
marker of the travel there is. Dotted in the plots of sag: the target. ^Up, ^Down scroll the row in hand.
F7 marks a row, ^K compares it with the one under the bar; without a mark that one with the open job as it is now.

CAUTIONS
Fork caps and shock springs hold stored force: unload them first, use the proper compressor, face away.
Never open or heat a shock under gas pressure. Support the machine so that it cannot fall.
The manufacturer's manual, local rules and a qualified technician's judgement come before any number here.
The program computes; it does not approve a machine as safe.
"""
