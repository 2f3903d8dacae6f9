"""The worked pages of the help: what is decided, an example, when it misleads, what the manual decides, an exercise.

A number of the sample is never written here: [[figure]] stands for a figure by its path in `check --json`, [[=field]]
for what the sample has recorded. report/lesson_figures.py puts them in.
"""

from __future__ import annotations

from stanchion.base.record import record

PAGES_TITLE = "Worked pages, each with an exercise. Enter opens one, Esc goes back."
PAGE_FOOT = "Enter begins the exercise on a copy of the sample. Arrows scroll. Esc goes back."
DECIDED, EXAMPLE, MISLEADS, MANUAL, EXERCISE = (
    "What is decided",
    "Worked example: the sample {sample}",
    "When it misleads",
    "What the manual decides",
    "Exercise",
)
MACHINE = "Exercise: {title}"
"""What the copy's machine is called, by which the program knows it again."""
BEGUN = (
    "This is a copy of the sample, to try on. The line above the warnings says what is reached; F1, Enter: the page."
)
REACHED = "Exercise, {title}: solved. All {count} reached."
LEFT = "Exercise, {title}: {reached} of {count} reached. Left: {left}{more}."
MORE_LEFT = "; and {more} more"
ONE_LEFT = "{name} {value}, wanted {bounds}"
NOT_KNOWN = "not known"
RANGE = {"at_most": "{high} or less", "at_least": "{low} or more", "between": "{low} to {high}"}
GOALS: dict[str, str] = {
    "front.left.installed_preload_mm": "fork's installed preload",
    "front.left.headroom_in_turns": "adjuster's headroom in",
    "predicted.front.static.sag_mm": "front static sag, predicted",
    "predicted.front.rider.sag_mm": "front rider sag, predicted",
    "predicted.rear.static.sag_mm": "rear static sag, predicted",
    "predicted.rear.rider.sag_mm": "rear rider sag, predicted",
    "springs.front.left.coil_bind_clearance_mm": "clearance to coil bind",
    "full_travel.front.fast_n": "fork force at full travel, fast",
    "front.rate_n_per_mm": "combined fork rate",
    "geometry.trail_mm": "trail",
    "geometry.rake_deg": "rake",
    "gas.stands.anti_squat_pct": "anti-squat at sag",
    "damping.front.ratios.3.ratio": "fork's damping ratio, rebound at 250 mm/s",
}
"""What the figure of each goal is called."""


@record(kw_only=True)
class Lesson:
    """The words of one page."""

    title: str
    decided: str
    example: str
    misleads: str
    manual: str
    exercise: str
    screen: str
    """The screen on which the exercise begins."""


LESSONS: dict[str, Lesson] = {
    "preload_band": Lesson(
        title="Preload band",
        decided=(
            "How far the spring is compressed with the wheel hanging, before it carries anything. It decides how "
            "high the machine stands and how soon it tops out. It does not change the rate."
        ),
        example=(
            "Free length [[=front.left.spring.free_length_mm]] less set length "
            "[[=front.left.spring.set_length_mm]] with the adjuster fully out: "
            "[[front.left.installed_preload_mm]] installed. The band for this use is [[band.front]]. With the "
            "adjuster as it stands it is [[front.left.preload_now_mm]], which presses with "
            "[[front.left.preload_force_n]] before the wheel carries anything. Headroom in: "
            "[[front.left.headroom_in_turns]]."
        ),
        misleads=(
            "A set length that was read with another spacer, or not with the adjuster where it says. Two springs "
            "of unequal length on spacers of one length. Preload in its band does not make a soft spring right: "
            "both sags together tell that."
        ),
        manual=(
            "Spacer lengths, the range of the adjuster, and any preload the maker gives come before the band here."
        ),
        exercise=(
            "The fork has too much preload and its adjuster is fully in. Bring installed preload into its band, "
            "as a shorter spacer would (enter the set lengths it gives), and leave at least 2 turns in on the "
            "adjuster."
        ),
        screen="front",
    ),
    "pair_of_sags": Lesson(
        title="Both sags together",
        decided=(
            "Which spring, and how much preload. Preload moves both sags by about as much; the rate moves them "
            "apart. Rider sag in target with static sag too small: the spring is too soft, and preload holds it "
            "up. With static sag too large: the spring is too stiff."
        ),
        example=(
            "Front rider sag [[sag.front.rider.sag_mm]], target [[target.front.rider]]; static "
            "[[sag.front.static.sag_mm]], target [[target.front.static]]. Two springs of "
            "[[=front.left.spring.rate_n_per_mm]] give a combined fork rate of [[front.rate_n_per_mm]]. The "
            "springs as they are predict [[predicted.front.rider.sag_mm]] and [[predicted.front.static.sag_mm]]. "
            "Turning the adjuster out can bring both into target; the spring is right only if installed preload is "
            "then in its band too."
        ),
        misleads=(
            "Stiction: with much of it the middle of two readings is not where the spring stands. A top-out "
            "spring makes static sag read small. Sags that were read before springs or preload were changed."
        ),
        manual="The maker's sags, or those of whoever supplied the springs, come before the targets here.",
        exercise=(
            "Bring both sags of both ends into target, with the fork's installed preload in its band. ^G lists "
            "springs; rate, set lengths and adjuster are on Front. The predicted sags count, as nobody can read "
            "them again here."
        ),
        screen="front",
    ),
    "coil_bind": Lesson(
        title="Coil bind",
        decided=(
            "Whether the coils keep apart at full travel. A spring that goes solid first stops the suspension "
            "hard and breaks parts."
        ),
        example=(
            "Solid length [[springs.front.left.solid_length_mm]], set length "
            "[[=front.left.spring.set_length_mm]], fork travel [[=front.travel_mm]]: at full travel, adjuster "
            "fully in, [[springs.front.left.coil_bind_clearance_mm]] are left to coil bind. Wanted are at least "
            "[[springs.front.left.required_clearance_mm]]."
        ),
        misleads=(
            "A solid length by coils and wire when the ends are not as said: a measured one is better. A travel "
            "that is not the true one, such as with packers or a bump rubber. Preload added later takes as much "
            "away."
        ),
        manual="The least clearance, or the greatest preload, that the maker of the spring gives.",
        exercise=(
            "Springs of the same rate with [[=front.left.spring.coils.total_coils]] coils were fitted, and their "
            "coils touch before the fork is at its end. Enter springs that keep the clearance wanted: fewer "
            "coils, or thinner wire. Keep installed preload in its band."
        ),
        screen="front",
    ),
    "air_gap": Lesson(
        title="Air gap",
        decided=(
            "How steeply the fork stiffens near full travel. A smaller air gap adds force there and almost none "
            "at sag, so it is for bottoming, not for ride height."
        ),
        example=(
            "With an air gap of [[=front.left.air_gap_mm]] full travel takes [[full_travel.front.slow_n]] slowly, "
            "of which the air is [[full_travel.front.slow_air_n]]; fast, as over a bump, "
            "[[full_travel.front.fast_n]], of which the air is [[full_travel.front.fast_air_n]]."
        ),
        misleads=(
            "An air gap read with the spring in, or not fully compressed as the manual says. A hot fork, whose "
            "air presses harder. A fork that bottoms because its spring is too soft: look at sag first."
        ),
        manual="How the air gap is read, and the least one: below it oil seals give way.",
        exercise=(
            "The fork reaches its end over kerbs, and its sags are right. Bring the force at full travel, fast, "
            "up by 150 to 300 N, with the same springs and rider sag still in target."
        ),
        screen="front",
    ),
    "trail": Lesson(
        title="Trail",
        decided=(
            "How far the front tyre's contact patch lies behind where the steering axis meets the ground. More "
            "holds the machine straighter and steers heavier; less turns more easily and is nervous."
        ),
        example=(
            "As it stands: rake [[geometry.rake_deg]], trail [[geometry.trail_mm]], with "
            "[[=front.fork_height_mm]] of fork above the yoke. Sliding the fork down raises the front: rake and "
            "trail grow together."
        ),
        misleads=(
            "Geometry that was measured with other tyres, or in another state than is noted. Trail is of the "
            "machine standing: on the brakes the front dives and it is less (F7 on Prediction)."
        ),
        manual="How far the fork may be moved in the yokes, and how long or short the shock may be made.",
        exercise=(
            "The rider finds the steering too light on the straight. Give it at least 1.3 mm more trail, with no "
            "more than 0.3° more rake."
        ),
        screen="front",
    ),
    "anti_squat": Lesson(
        title="Anti-squat",
        decided=(
            "Whether the rear squats or rises on the gas. At 100 % chain pull holds the rear up as much as the "
            "load that moves back presses it down."
        ),
        example=(
            "Swingarm [[gas.stands.arm_deg]] down, chain [[gas.stands.chain_deg]] up: the line through where both "
            "meet rises at [[gas.stands.squat_deg]], the load line at [[gas.stands.transfer_deg]]. Anti-squat "
            "[[gas.stands.anti_squat_pct]]."
        ),
        misleads=(
            "It is of steady gas, without tyre slip. The height of the centre of mass is often an estimate. Other "
            "sprockets also move the axle in its slot, and change gearing."
        ),
        manual="Which sprockets and chain lengths fit, and where the axle may stand.",
        exercise=(
            "The rear is too stiff out of corners. Bring anti-squat down by at least 2 points with other "
            "sprockets (Upkeep), and leave trail as it is, within 0.3 mm."
        ),
        screen="upkeep",
    ),
    "damping_ratio": Lesson(
        title="Damping ratio",
        decided=(
            "How much damping there is beside critical damping, the least with which the end comes to rest "
            "without swinging past. A stiffer spring or a heavier rider needs more damping for the same ratio."
        ),
        example=(
            "Wheel rate [[damping.front.wheel_rate_n_per_mm]] and sprung mass [[damping.front.sprung_kg]] make "
            "[[damping.front.frequency_hz]] and a critical damping of [[damping.front.critical_n_s_per_m]]. By "
            "the damper sheet rebound at 250 mm/s of the wheel has a damping ratio of "
            "[[damping.front.ratios.3.ratio]], compression [[damping.front.ratios.1.ratio]]."
        ),
        misleads=(
            "It is of springs and masses alone: no tyre, no bumps, no grip. A damper sheet of another valve stack "
            "or of cold oil. Between the positions measured a curve is drawn, beyond them nothing is known."
        ),
        manual="The positions the maker allows, and from where clicks are counted.",
        exercise=(
            "Springs of [[=front.left.spring.rate_n_per_mm]] were fitted and rebound was left as it was. Turn "
            "rebound until its damping ratio at 250 mm/s is again what it was with the softer springs, within "
            "0.015."
        ),
        screen="adjusters",
    ),
}
