"""Every threshold that judging and planning go by: a number, its [unit], where it applies, and its source.

Bands and targets that depend on the use lie in data/profiles.toml, likely ranges of a field in data/plausible.toml. A
share is of 1. Tolerances of a numerical method stay with the method.
"""

from __future__ import annotations

from stanchion.job.model import End

# --- equality ---------------------------------------------------------------------------------------------------------

SLACK = 1e-6
"""[the unit compared] Values closer than this are equal. Chosen here: far below any tape, far above rounding."""
NOT_SHOWN_MM = 0.05
"""[mm] A length, or difference of lengths, that shows as 0.0. Chosen here: lengths are shown to 0.1 mm, and neither
tape nor gauge reads finer."""

# --- readings ---------------------------------------------------------------------------------------------------------

TAPE_DIVISION_MM = 1.0
"""[mm] Smallest division of a tape for which none is recorded. Common practice, no published source."""
REPEATS_APART_MM = 3.0
"""[mm] Repeats of one sag reading further apart are to be taken again. Common practice, no published source."""
REPEATED_WITHIN_MM = 2.0
"""[mm] Repeated readings with which a sag is known to this much, at about 95 %, are not asked for again. Chosen here: a
fifth of a usual target's width; three readings on a tape in mm leave about 1 mm."""
REPEATS_APART_DIVISIONS = 2.0
"""[divisions of the tape] The same with a coarse tape. Common practice, no published source."""
MARKER_READING_MM = 2.0
"""[mm] A travel marker this little beyond the travel, or short of rider sag, is a matter of reading it. Common
practice, no published source."""
PRESSURE_READING_BAR = 0.02
"""[bar] What a tyre gauge may be read wrong by. Common practice, no published source."""
WHEELBASE_DIFFERS_MM = 2.0
"""[mm] What two wheelbases taken with a tape may differ by. Common practice, no published source."""
SCALE_UNCERTAINTY_KG = 0.5
"""[kg] Standard uncertainty of one reading of a wheel scale. Common practice, no published source."""
SCALE_OFF = 0.01
"""[share] By more than this of a reading a scale is far off. Common practice, no published source."""
SCALE_OFF_KG = 1.0
"""[kg] By more than this a scale is far off too. Common practice, no published source."""
CALIBRATION_DOUBTED = 0.1
"""[share] By more than this of a reading no scale in use is off: the known masses are wrong. Common practice, no
published source."""
CALIBRATION_OLD_DAYS = 365
"""[days] After which a calibration is old. Common practice, no published source."""
SHARE_UNCERTAINTY = 0.03
"""[share] Standard uncertainty of a share of mass that was judged and not weighed. Common practice, no published
source."""
TAPE_SCALE_OFF = 0.0005
"""[share of the length] A tape whose own scale was never checked is wrong by no more: 0.5 mm in a metre. Common
practice, no published source; tapes are sold in classes near it."""
CALIPER_OFF_MM = 0.1
"""[mm] What a caliper may be read wrong by in a workshop. Common practice, no published source."""
COILS_COUNTED = 0.25
"""[coils] Coils are counted to so much. Common practice, no published source."""
ANGLE_OFF_DEG = 0.2
"""[degrees] What an angle gauge may be read wrong by, set on an uneven floor. Common practice, no published source."""
PRESSURE_OFF = 0.01
"""[share of the pressure] What a pressure gauge may be wrong by, where that is more than it can be read to. Common
practice, no published source."""
TEMPERATURE_OFF_C = 1.0
"""[°C] What a temperature may be read wrong by. Common practice, no published source."""
RATE_LABEL_OFF = 0.03
"""[share of the rate] What a spring may differ from its label by. Common practice, no published source; as
PAIR_RATES_DIFFER."""
SCALES_DIFFER = 0.05
"""[share] Scales and masses entered differ by more: a note. Common practice, no published source."""
MASS_UNCERTAIN: dict[str, float] = {"machine": 0.10, "rider": 0.05}
"""[share] By so much a mass as entered may be off: a machine's by a tank of fuel, a rider's by gear. Where the scales
cannot explain the rest, one of the two is wrong. Common practice, no published source."""

# --- installed preload and its adjuster -------------------------------------------------------------------------------

PRELOAD_NEAR_LIMIT_MM = 1.0
"""[mm] Installed preload this close below its limit: a note. Common practice, no published source."""
PRELOAD_UNSURE = 3.0
"""[divisions of the tape] Installed preload further than this from an edge of its band is not asked how sure it is.
Chosen here: two readings of lengths and one of the adjuster, each to a division, come to half of it."""
LEG_PRELOADS_DIFFER_MM = 0.5
"""[mm] Preload of the two legs, or a spacer and the one needed, may differ by this much. Common practice, no published
source."""
FREE_LENGTHS_NOTE_MM = 1.0
"""[mm] Free lengths of springs that should match differ by more: a note. Common practice, no published source."""
FREE_LENGTHS_WARNING_MM = 2.0
"""[mm] The same: a warning. Common practice, no published source."""
FEW_TURNS_LEFT = 1.0
"""[turns] An adjuster with fewer left is near its end. Common practice, no published source."""
FEW_MM_LEFT = 1.0
"""[mm] The same where its turns are not known, or it is counted in clicks: about a turn of the usual thread. Common
practice, no published source."""
ADJUSTER_STEP = 0.25
"""[turns, rings or mm] Steps in which an adjuster can be set. Common practice, no published source."""
RANGES_DISAGREE = 0.10
"""[share of the longer] Adjuster range by set lengths and by thread differ by more: a warning. Common practice, no
published source."""
LONGEST_THREAD_MM = 60.0
"""[mm] No preload adjuster adds more; pitch times turns beyond it is a misreading. Common practice, no published
source."""
MOST_COUNTED = {"turns": 40.0, "clicks": 100.0, "rings": 20.0, "mm": 100.0}
"""[turns, clicks, rings, mm] No preload adjuster shows or counts more; beyond it another reading was typed there.
Common practice, no published source."""
SAME_TURN = 0.01
"""[share] Adjusters of both legs whose turns differ by no more are alike. Chosen here: no thread is measured finer."""
SAME_ADDED_MM = 0.01
"""[mm] Adjusters of both legs that add the same within this stand alike. Chosen here: far below a click or ring."""
LEAST_COLLAR_EFFECT = 1e-3
"""[mm at the wheel for 1 mm of collar] Less, and the collar is no way to set sag. Chosen here: the linkage is then near
its dead centre."""

# --- springs ----------------------------------------------------------------------------------------------------------

PAIR_RATES_DIFFER = 0.03
"""[share of their mean] The springs of both legs differ by more: mixed springs. Springs sold as a pair measure within
it. Common practice, no published source."""
RATE_SOURCES_DIFFER = 0.05
"""[share] Rates of one spring by label, tester and coils differ by more: a note. Common practice, no published
source."""
TESTER_BENDS = 0.05
"""[share] From the first third of a tester's readings to the last the rate changes by more, and by more than twice the
uncertainty: the spring has no one rate. Chosen here."""
TESTER_PAIR_OFF = 0.02
"""[share of the greatest force] One reading of a spring tester is questioned where it is further off the others than a
workshop's tester is wrong. Common practice, no published source."""
TESTER_PAIR_SCATTERS = 4.0
"""[1] ... and by more than so many standard deviations of the others. Chosen here."""
LEAST_COIL_CLEARANCE_MM = 3.0
"""[mm] Less left between the coils at full travel, over the whole spring: a fault. Common practice, no published
source; the standard's own gaps are in mechanics/spring."""
SOLID_LENGTH_DIFFERS = 0.1
"""[share] Solid length as measured and by coils differ by more: a warning. Common practice, no published source."""
STEEPEST_COIL_PITCH = 0.8
"""[height of a coil over mean diameter] No suspension spring reaches it; a pitch angle of 14 degrees. Common practice,
no published source."""
SAME_COIL_DIAMETER_MM = 1.0
"""[mm] Springs whose outer diameters differ by no more go into one place. Common practice, no published source."""
RATE_STEPS_N_PER_MM: dict[End, tuple[float, float]] = {"front": (0.25, 0.5), "rear": (2.5, 5.0)}
"""[N/mm] Steps in which springs are sold, the usual one first. Common practice, no published source."""

# --- the air in a fork ------------------------------------------------------------------------------------------------

AIR_GAP_STEP_MM = 5.0
"""[mm] Steps in which an air gap is changed. Common practice, no published source."""
GAUGE_STEP_BAR = 0.1
"""[bar] Steps in which the pressure of an air fork is set. Common practice, no published source."""
USUAL_TEMPERATURE_C = 20.0
"""[°C] Temperature of a fork where none is recorded. Chosen here."""
GAUGES_SHIFT_BAR = 0.05
"""[bar] Gauges that read otherwise by more than this after a change of altitude are said: some 450 m; a gauge is read
to 0.02. Chosen here."""
BAROMETER_OFF_BAR = 0.06
"""[bar] Weather moves a barometer by less than this from the standard atmosphere; more is one reduced to sea level.
Common practice, no published source."""
MOST_COMPRESSION_OF_AIR = 100.0
"""[1] Largest compression ratio for which the air that springs a leg is computed; forks reach ten. Chosen here."""
MOST_SOLIDS_IN_AIR = 0.6
"""[share of the air space] What spring, spacer and cap may fill. Common practice, no published source."""

# --- linkage ----------------------------------------------------------------------------------------------------------

MOTION_RATIOS = (0.02, 5.0)
"""[shock travel over wheel travel] Pairs that give another ratio are misread. Common practice, no published source."""
STEEPEST_RATIO_PER_MM = 1.0
"""[change of motion ratio over 1 mm at the wheel] Pairs that give more are misread. Common practice, no published
source."""
WHEEL_RATE_UNCERTAIN = 0.10
"""[share of wheel rate or collar effect] A larger expanded uncertainty: a warning. Common practice, no published
source."""
LAST_PAIR_SHORT = 0.05
"""[share of full travel] The last pair may fall short by this much and the curve goes straight on. Common practice, no
published source."""
PAIRS_AND_POINTS_DIFFER = 0.02
"""[share of shock travel] Pairs and points that differ by more: one of the two is wrong. Common practice, no published
source."""
POINTS_TRAVEL_MM = 250.0
"""[mm at the wheel] As far as points are followed where no wheel travel is recorded. Chosen here: more than most
machines have."""

# --- sag and the advice on it -----------------------------------------------------------------------------------------

TOPPED_OUT_MM = 2.0
"""[mm] A lifted reading this close to full extension is topped out. Common practice, no published source."""
BOTTOMED_MM = 1.0
"""[mm] A sag this close to full travel may rest on the stop. Common practice, no published source."""
CLOSE_TO_TARGET_MM = 0.5
"""[mm of sag] A sag that turning alone brings this close to its target is worth no other work. Common practice, no
published source."""
LEAST_FOR_A_SPRING_MM = 0.7
"""[mm of sag] No other spring is fitted where turning brings both sags this close. Chosen here; no published value.

It is the standard uncertainty of a sag by one pushed-down and one lifted reading: 1 mm each by hand and eye, so
1 mm / sqrt 2 for their mean. By less than that, fitting and measuring again would not show a difference."""
NOTHING_MISSED_MM = 1e-3
"""[mm of sag] Springs with which the sags miss their targets by no more bring them in. Chosen here: above what the
search for a rate leaves, far below any tape."""
LEAST_SPACER_CHANGE_MM = 1.0
"""[mm] A spacer is not changed by less. Common practice, no published source."""
LEAST_TURNED_MM = 0.25
"""[mm] An adjuster is not turned by less. Common practice, no published source."""
PRELOAD_MARGIN_MM = 1.0
"""[mm] A change of preload aims this far inside the range that suits, where there is room. Common practice, no
published source."""
TRAVEL_NOT_AS_MEANT = 0.10
"""[share] A travel further outside that the targets are meant for: a note. Common practice, no published source."""

# --- prediction -------------------------------------------------------------------------------------------------------

PREDICTED_SAG_DIFFERS_MM = 3.0
"""[mm] A measured sag closer to the predicted one is as predicted. Common practice, no published source."""
PREDICTED_SAG_DIFFERS = 0.15
"""[share of the predicted sag] And so is one within this. Common practice, no published source."""
INPUTS_DOUBTED = 0.25
"""[share of the travel] A measured sag further off the predicted one says that something entered is wrong. Common
practice, no published source."""
USUAL_TRAVEL_MM = 120.0
"""[mm] The travel taken for that where none is recorded. Common practice, no published source."""
WORKING_RATE_DIFFERS = 0.15
"""[share of the predicted rate] The rate at work between both sags differs by more: a finding. Common practice, no
published source."""
WORKING_RATE_DOUBTED = 2.0
"""[times the predicted rate, or one part in so many of it] No rate these springs can have. Common practice, no
published source."""
WORKING_RATE_DOUBTED_WHOLE = 1.5
"""[the same] Where all that the prediction needs was entered and weighed, so that nothing is left to explain it. Common
practice, no published source."""
LEAST_PREDICTED_RATE_N_PER_MM = 1e-3
"""[N/mm] A predicted rate no higher is none: the loose spring is not reached. Chosen here: far below any spring."""

# --- balance and braking ----------------------------------------------------------------------------------------------

USUAL_HEIGHT_MM = (560.0, 700.0)
"""[mm] Height of the centre of mass of a machine with its rider, where it was not measured. Common practice, no
published source."""
HEIGHT_TO_EXPECT_MM = {"static": (350.0, 800.0), "rider": (450.0, 1000.0)}
"""[mm] Height of the centre of mass, machine alone and with its rider, outside which the readings are in doubt: from
small machines to tall ones. Common practice, no published source; the same ranges are in data/plausible.toml."""
MOST_HEIGHT_UNCERTAINTY_MM = 100.0
"""[mm] Expanded uncertainty of a height by lifting above which it says less than the usual range does. Chosen here:
half again as much as the 70 mm by which USUAL_HEIGHT_MM is off at most."""
LEAST_LIFT_DEG = 10.0
"""[degrees] A front lifted by less gives a height that is not worth much. Common practice, no published source."""
BLOCK_STEP_MM = 50.0
"""[mm] By how much higher one more block is proposed. Chosen here: a plank or two."""
MOST_LIFT_DEG = 20.0
"""[degrees] No block is proposed that lifts the front by more: the machine gets hard to hold. Common practice, no
published source."""
MOST_BRAKING_G = 1.2
"""[g] A marker that asks for harder braking stands for bumps or a misreading. Common practice, no published source."""
LEFT_ON_THE_BRAKES_MM = 10.0
"""[mm] Fork travel to be left on the brakes, for bumps. Common practice, no published source."""
USUAL_AIR_GAP_MM = (40.0, 250.0)
"""[mm] No air gap outside is proposed. Common practice, no published source; as in data/plausible.toml."""
AIR_GAP_READING_MM = 1.0
"""[mm] An air gap is set to so much with a tube and a syringe. Common practice, no published source."""
LEAST_DAMPER_CHANGE = {"clicks": 1.0, "turns": 0.25}
"""[clicks, turns] A damper changed by less is not offered to be ridden. Common practice, no published source."""
LEAST_HEIGHT_CHANGE_MM = 0.5
"""[mm] Nor a fork tube or a shock moved by less. Chosen here: what a tape can be read to."""
MOST_HEIGHT_ADDED_MM = 50.0
"""[mm] No tube further above the yoke, and no shock longer from its datum, is proposed. Chosen here: as far as a length
adjuster can be entered."""
USUAL_BRAKING_G: dict[str, float] = {"track": 0.9, "other": 0.6}
"""[g] Steady braking looked at where none is entered: on the track, and for any other use. Common practice, no
published source."""

# --- damping ----------------------------------------------------------------------------------------------------------

DAMPING_CHANGE = 0.05
"""[share of the damping] Springs and masses that ask for as much more or less are worth turning an adjuster for. Common
practice, no published source."""

DAMPING_CHANGE_LARGE = 0.1
"""[share of the damping] From here on it is a warning: about a fifth more or less rate. Common practice, no published
source."""

# --- on the gas -------------------------------------------------------------------------------------------------------

USUAL_ACCELERATION_G: dict[str, float] = {"track": 0.5, "other": 0.3}
"""[g] Steady acceleration looked at where none is entered: on the track, and for any other use. Common practice, no
published source."""
ARM_ANGLES_DIFFER_DEG = 1.0
"""[degrees] What a swingarm's angle by a gauge and by heights may differ by. Chosen here: 5 mm in the height of the
pivot of a swingarm of 560 mm come to half of it."""
ARM_AND_POINTS_DIFFER_DEG = 1.5
"""[degrees] What a swingarm's angle as measured and by the linkage points may differ by. Chosen here: readings each
up to 1 mm off came to less than 1.0 for three invented linkages (400 draws each); a frame is level to half a degree."""
CHAIN_APART_MM = 5.0
"""[mm] What the distance of the sprockets by tape may differ from the one at which the chain is taut before the chain
is called too short or too long. Chosen here: three lengths, each good to 2 or 3 mm."""

# --- runs and tyres ---------------------------------------------------------------------------------------------------

NEAR_FULL_TRAVEL = 0.04
"""[share of the travel] A marker this close to the end has used all of it: 5 mm of 125. Common practice, no published
source."""
TRAVEL_KEPT_BACK = 0.2
"""[share of the travel] More than this never used under hard braking is too much: 25 mm of 125. Common practice, no
published source."""
HOT_PRESSURE_OFF_BAR = 0.05
"""[bar] A hot tyre further from the pressure wanted: a note. Common practice, no published source."""
HOT_TYRE_C = (20.0, 130.0)
"""[°C] What a tyre's temperature hot usually is. Common practice, no published source."""
HOT_TYRE_BAR = (0.6, 4.0)
"""[bar] What a tyre's pressure hot usually is. Common practice, no published source."""
COLD_TYRE_STEP_C = 5.0
"""[°C] Steps of the table of cold pressures to set. Chosen here: as finely as a weather forecast is given."""

TRAIL_LESS_MM = 5.0
"""[mm] Less trail than before by more than this is said before a ride. Common practice, no published source."""
RAKE_STEEPER_DEG = 1.0
"""[degrees] So is a rake steeper by more than this. Common practice, no published source."""

# --- damper sheets ----------------------------------------------------------------------------------------------------

STATED_SPEEDS_MM_PER_S = (25.0, 50.0, 100.0, 150.0, 250.0, 500.0, 1000.0)
"""[mm/s] Speeds of a shaft at which forces are stated. Chosen here: about twice the one before, as far as dampers are
usually driven."""
LOW_SPEED_MM_PER_S = 150.0
"""[mm/s] Up to here the speed of a shaft is low, from here on high. Common practice, no published source."""
GAS_BY_MEAN_MM_PER_S = 25.0
"""[mm/s] The mean of both strokes is the gas force only up to here. Chosen here: faster, strokes differ."""

WHEEL_SPEEDS_MM_PER_S = (100.0, 250.0)
"""[mm/s] Vertical speeds of the wheel at which the damping ratio is stated: body movements, and bumps. Common practice,
no published source."""
CLICKS_AT_MM_PER_S = 100.0
"""[mm/s] Speed of the shaft at which clicks of rebound are compared. Common practice, no published source."""
AXLE_STAYS_MM = 0.5
"""[mm] An axle that need not be moved further for other teeth counts as one that stays. Chosen here: what a tape can be
read to."""
DAMPING_SHOWN_PCT = 1.0
"""[%] A trial says what damping its spring or rider wants from such a difference on. Chosen here: far below a click."""

# --- the order of springs to choose from ------------------------------------------------------------------------------

WORSE_VERDICT = 1000.0
"""[score] For each step of the verdict, so that no spring comes before one with a better verdict. Chosen here."""
OTHER_FREE_LENGTH = 1.0
"""[score] For another free length: as much as half a target's width of sag. Common practice, no published source."""
MIXED_PAIR = 0.1
"""[score] For a mixed pair: of two that come equally near, equal springs are the better. Common practice, no published
source."""
RATE_OFF = 10.0
"""[score] For a rate off by its own size; a tenth of it moves sag by about half a target's width. Common practice, no
published source."""
NEAR_EDGE = 1.0
"""[score] For a sag at the edge of its target, less in proportion to where it can be told from outside. Chosen here: as
much as half a target's width of sag."""
ADJUSTER_OFF_CENTRE = 0.5
"""[score] For an adjuster at its end, less in proportion towards the middle. Common practice, no published source."""
