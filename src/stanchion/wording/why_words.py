"""The words in which a figure is explained: what a formula calls its numbers, and where a reading stands."""

from __future__ import annotations

import re
import textwrap

from stanchion.job.model import Path
from stanchion.wording.american import worded
from stanchion.wording.figure_titles import figure_title
from stanchion.wording.labels import field_label, label, uncapitalised

_ENDINGS = {
    "n_s_per_m": "N·s/m",
    "mm_per_s": "mm/s",
    "n_per_mm": "N/mm",
    "mm_per_turn": "mm",
    "mm_per_click": "mm",
    "ml_per_mm": "ml/mm",
    "turns": "turns",
    "clicks": "clicks",
    "teeth": "teeth",
    "mm3": "mm³",
    "mm2": "mm²",
    "hpa": "hPa",
    "mpa": "MPa",
    "bar": "bar",
    "deg": "°",
    "pct": "%",
    "hz": "Hz",
    "kg": "kg",
    "ml": "ml",
    "mm": "mm",
    "nm": "N·m",
    "n": "N",
    "g": "g",
    "c": "°C",
    "m": "m",
    "s": "s",
}
"""Unit by the end of a key, the longer ending first."""
_SYMBOL = re.compile(r" (?:[A-Za-z]|[A-Za-z]{1,2}_\w+|C_\w+)$")
"""A letter that stands for an argument in the formula of its docstring."""
_UNITS = {"N s/m": "N·s/m", "degrees": "°", "dimensionless": "", "none": "", "1": "", "Hz": "Hz"}
_NAMES: dict[tuple[str, str], tuple[str, str]] = {
    ("air_spring.AirSpring.state", "0"): ("force of the air spring", "N"),
    ("air_spring.AirSpring.state", "1"): ("rate of the air spring", "N/mm"),
    ("anti_squat.squat", "anti_squat"): ("anti-squat ratio", ""),
    ("anti_squat.squat", "squat_deg"): ("squat line", "°"),
    ("anti_squat.squat", "transfer_deg"): ("load transfer line", "°"),
    ("bump_stop.BumpStop.state", "0"): ("force of the bump rubber", "N"),
    ("chain.centres_for", "front_teeth"): ("teeth of the front sprocket", "teeth"),
    ("chain.centres_for", "rear_teeth"): ("teeth of the rear sprocket", "teeth"),
    ("chain.centres_for", ""): ("distance between the sprockets", "mm"),
    ("chain.chain_links", ""): ("links of the chain", ""),
    ("chain.chain_links", "centres_mm"): ("distance between the sprockets", "mm"),
    ("chain.pitch_radius", ""): ("radius of the sprocket", "mm"),
    ("chain.upper_run", "up_deg"): ("angle of the upper run", "°"),
    ("chain.upper_run", "x_mm"): ("upper run, ahead", "mm"),
    ("chain.upper_run", "z_mm"): ("upper run, up", "mm"),
    ("equilibrium.fork_position", "travel_mm"): ("travel of the fork", "mm"),
    ("equilibrium.fork_sag", "sag_mm"): ("sag along the leg", "mm"),
    ("force_parts.fork_parts", "coil_n"): ("force of the coil springs", "N"),
    ("force_parts.fork_parts", "rubber_n"): ("force of the bump rubbers", "N"),
    ("force_parts.fork_parts", "trapped_n"): ("force of the trapped air", "N"),
    ("force_parts.rear_parts", "coil_n"): ("force of the coil spring at the wheel", "N"),
    ("force_parts.rear_parts", "gas_n"): ("force of the gas at the wheel", "N"),
    ("force_parts.rear_parts", "rubber_n"): ("force of the bump rubber at the wheel", "N"),
    ("fork.air_force", ""): ("force of the trapped air in a leg", "N"),
    ("fork.with_added_preload", "travel_mm"): ("full travel", "mm"),
    ("fork.force_and_rate", "0"): ("force along the fork", "N"),
    ("fork.force_and_rate", "1"): ("rate along the fork", "N/mm"),
    ("gas.least_air_volume", ""): ("air left at full travel", "mm³"),
    ("gas.least_air_volume", "solids_mm3"): ("solids in that air", "mm³"),
    ("geometry.attitude", "front_shorter_mm"): ("front axle nearer the yokes", "mm"),
    ("geometry.attitude", "rear_lower_axle_mm"): ("rear axle lower in the frame", "mm"),
    ("linkage.Linkage.state", "0"): ("shock travel", "mm"),
    ("linkage.Linkage.state", "1"): ("motion ratio", ""),
    ("linkage.Linkage.state", "2"): ("change of the motion ratio", "1/mm"),
    ("load.cosine_of_rake", ""): ("cosine of the rake", ""),
    ("load.sprung_load", ""): ("sprung load", "N"),
    ("load.working_rate", ""): ("rate between the sags", "N/mm"),
    ("load.working_rate_uncertainty", "standard"): ("standard uncertainty of the rate", "N/mm"),
    ("mass_centre.ahead_of_rear", ""): ("centre of mass ahead of the rear axle", "mm"),
    ("mass_centre.ahead_of_rear", "rear_kg"): ("what the scale under the rear wheel reads", "kg"),
    ("mass_centre.ahead_uncertainty", "standard"): ("standard uncertainty of the distance ahead", "mm"),
    ("mass_centre.height_by_lifting", "height_mm"): ("height of the centre of mass", "mm"),
    ("mass_centre.height_by_lifting", "steepest_deg"): ("steepest lift", "°"),
    ("mass_centre.lift_angle", ""): ("angle of the lift", "°"),
    ("oil_level.oil_area", ""): ("area of the oil", "mm²"),
    ("preload.settings_beside", "0"): ("nearest setting", "mm"),
    ("preload.fraction_from_reading", ""): ("position of the adjuster", ""),
    ("preload.headroom_in", ""): ("headroom in", ""),
    ("preload.headroom_out", ""): ("headroom out", ""),
    ("preload.adjuster_range", ""): ("adjuster range", "mm"),
    ("preload.adjuster_range", "set_mm"): ("set length", "mm"),
    ("rear.rear_position", "travel_mm"): ("travel of the rear wheel", "mm"),
    ("rear.rear_travel", "0"): ("travel of the rear wheel", "mm"),
    ("rear.full_wheel_travel", ""): ("full wheel travel", "mm"),
    ("rear.rear_shock_force", ""): ("force along the shock", "N"),
    ("rear.rear_wheel_force", ""): ("force at the rear wheel", "N"),
    ("rear.rear_wheel_rate", ""): ("rate at the rear wheel", "N/mm"),
    ("sag.sag", ""): ("sag", "mm"),
    ("shock.shock_force", ""): ("force along the shock", "N"),
    ("shock.wheel_rate", "ratio_slope"): ("change of the motion ratio", "1/mm"),
    ("solve.bracketed_root", ""): ("value searched for", ""),
    ("solve.falling_root", ""): ("value searched for", ""),
    ("spring.mean_coil_diameter", ""): ("mean coil diameter", "mm"),
    ("spring.spring_index", ""): ("spring index", ""),
    ("spring.spring_rate", ""): ("spring rate", "N/mm"),
    ("spring_curve.force_at", "squeezed_mm"): ("compression from the free length", "mm"),
    ("spring_curve.force_at", ""): ("force of the spring", "N"),
    ("spring_curve.rate_at", ""): ("rate of the spring", "N/mm"),
    ("spring_stress.bergstraesser_factor", ""): ("stress factor", ""),
    ("spring_stress.direct_shear_factor", ""): ("factor of direct shear", ""),
    ("statistics.fit_line", "residual_deviation"): ("scatter about the line", ""),
    ("statistics.fit_line", "slope"): ("slope of the line", ""),
    ("statistics.fit_line", "slope_uncertainty"): ("standard uncertainty of the slope", ""),
    ("statistics.resolution_uncertainty", ""): ("uncertainty by the division of the tape", "mm"),
    ("statistics.standard_deviation", ""): ("standard deviation of the repeats", ""),
    ("statistics.type_a_uncertainty", ""): ("uncertainty of the mean of the repeats", ""),
    ("steady.axle_loads", "0"): ("load on the front wheel", "N"),
    ("steady.axle_loads", "1"): ("load on the rear wheel", "N"),
    ("steady.axle_loads", "deceleration_g"): ("deceleration", "g"),
    ("steady.axle_loads", "mass_kg"): ("mass of machine and rider", "kg"),
    ("steady.force_along_leg", "deceleration_g"): ("deceleration", "g"),
    ("steady.settled", "fork_mm"): ("travel of the fork", "mm"),
    ("steady.settled", "rear_mm"): ("travel of the rear wheel", "mm"),
    ("steady.stance", "ahead_mm"): ("centre of mass ahead of the rear axle", "mm"),
    ("steady.stance", "height_mm"): ("height of the centre of mass", "mm"),
    ("swingarm.arm_down", ""): ("swingarm below horizontal", "°"),
    ("swingarm.moved", "down_deg"): ("swingarm below horizontal", "°"),
    ("swingarm.moved", "length_mm"): ("length of the swingarm", "mm"),
    ("vibration.critical_damping", ""): ("critical damping", "N·s/m"),
    ("vibration.damping_ratio", ""): ("damping ratio", ""),
    ("vibration.damping_ratio", "damping_n_s_per_m"): ("damping", "N·s/m"),
}
"""Arguments and results whose contract has no short name for them, or one that says too little without the formula."""
_FIXED_NAMES = {
    "ML_MM3": ("volume of 1 ml", "mm³"),
    "ADIABATIC": ("exponent of air squeezed fast", ""),
    "G_N": ("standard gravity", "m/s²"),
    "ATMOSPHERE_MPA": ("pressure at sea level", "MPa"),
    "SINGLE_READING_UNCERTAINTY_MM": ("standard uncertainty of a reading taken once", "mm"),
}
TITLE = "Why: the figures of this screen"
WORKING = "Following each figure back to its readings."
NOTHING = "This screen has no figures."
NONE_LIKE_IT = "No figure has these letters."
ALSO = "Also used here"
"""Above the figures that the screen itself does not show."""
FURTHER = "Enter: how"
RECORDED = "Recorded, not worked out."
FIXED = "A fixed number: no reading is in it."
SOLVED = "Found by search, so that:"
SOURCE = "Source"
ONE_LEG, LEGS = "one leg", ("left leg", "right leg")
"""What a formula of both legs calls the part of each: where they are alike, and where not."""
OTHER_LEG = "other leg"


def too_long(operations: int) -> str:
    """Why a formula is not written out."""
    return f"Its formula has {operations} operations, too many to write out. These numbers are in it:"


_TAKEN_WITH = {
    "tape_scale": "the scale of the tape",
    "gauge": "the pressure gauge",
    "angle": "the angle gauge",
    "turns": "the turns as counted",
    "coils": "the coils as counted",
    "share": "the share, which is an estimate",
    "label": "the label",
    "tester": "the spring tester",
    "photo": "the photograph",
    "repeats": "its repeats",
    "mountings": "its repeats from one mounting to the next",
    "usual": "the usual value, where none is entered",
}
"""What makes a reading uncertain, as it follows "by"; what is not here is called "the" and its name."""


_BETTER_BY = {
    "tape_scale": "Have the tape checked first.",
    "share": "Measure it first.",
    "label": "Measure it first.",
    "usual": "Measure it first.",
    "repeats": "Take more repeats of it first.",
    "mountings": "Take more repeats of it first.",
}
"""What makes the figure surer, where it is not to repeat the reading."""


def sure_words(expanded: str, by: str, at: Path, share: float) -> str:
    """How sure a figure is, and which reading makes most of that.

    >>> sure_words("0.8 mm", "tape", ("front", "left", "spring", "free_length_mm"), 0.62)
    'Uncertainty: ± 0.8 mm (95 %); the largest part, 62 %, from Fork, left: free length, by the tape. Repeat it first.'
    """
    what = "all tape readings" if by == "tape_scale" else label(at)
    how = _TAKEN_WITH.get(by, f"the {by}")
    do = _BETTER_BY.get(by, "Repeat it first.")
    words = f"Uncertainty: ± {expanded} (95 %); the largest part, {share * 100:.0f} %, from {what}, by {how}. {do}"
    return worded(words)


def absent_words(figure: str, reason: str, *, both_legs: bool = False) -> str:
    """A figure that there is none of, and why.

    >>> absent_words("rear.gas_force_n", "needs the gas pressure")
    'Gas force of the shock, extended: needs the gas pressure'
    """
    return f"{figure_words(figure, both_legs=both_legs)}: {reason}"


def some_of(figure: str, known: list[str]) -> str:
    """The figures whose path begins with what was typed."""
    return f"'{figure}' stands for several figures: {', '.join(known)}"


def no_such_figure(figure: str, nearest: str) -> str:
    """That a typed path names no figure, with those most like it."""
    words = f"there is no figure '{figure}'. {nearest}"
    return f"{words.rstrip()} `stanchion check --json` prints them all."


def in_a_formula(title: str) -> str:
    """The title of a figure as a formula names it: without its place.

    >>> in_a_formula("Predicted, front, rider: sag")
    'sag'
    """
    return uncapitalised(title.rpartition(": ")[2])


def term_words(formula: str, contract: str, name: str, *, argument: bool) -> tuple[str, str]:
    """What a formula calls one of its numbers, and the unit of it.

    Args:
        formula: module and function, such as "preload.installed_preload".
        contract: its docstring.
        name: the argument, or the field of the result; empty for the result itself.
        argument: whether it is an argument.

    >>> contract = "x.\\n\\nArgs:\\n    free_mm: free length [mm], > 0.\\n\\nReturns:\\n    Preload [mm].\\n"
    >>> term_words("a.b", contract, "free_mm", argument=True), term_words("a.b", contract, "", argument=False)
    (('free length', 'mm'), ('preload', 'mm'))
    """
    known = _NAMES.get((formula, name))
    if known is not None:
        return worded(known[0]), known[1]
    section = _section(contract, "Args" if argument else "Returns")
    said = " ".join(section.split()) if not name else ""
    if argument:
        found = re.search(rf"^{name}: (.+?)(?=^\w+: |\Z)", section, re.MULTILINE | re.DOTALL)
        said = " ".join(found.group(1).split()) if found else ""
    unit = re.search(r"\[([^\]]+)\]", said)
    words = _SYMBOL.sub("", re.split(r" \[|[,;:.(](?: |$)| \(", said, maxsplit=1)[0])
    if not words:
        words, by_key = _of_key(name or formula.rpartition(".")[2])
        return worded(words), by_key
    return worded(uncapitalised(words).removeprefix("the ")), _UNITS.get(unit.group(1), unit.group(1)) if unit else ""


def source_words(contract: str) -> str:
    """The source that a contract names, on one line; a formula it refers to stands in words.

    >>> source_words("x.\\n\\nSource:\\n    As normal_trail.\\n")
    'As normal trail.'
    """
    said = " ".join(_section(contract, "Source").split())
    return worded(re.sub(r"\b[a-z]+(?:_[a-z]+)+(?:\(\))?", lambda name: name[0].replace("_", " ").strip("()"), said))


def figure_words(figure: str, *, both_legs: bool = False) -> str:
    """A figure by its dotted path, as the screens call it.

    Args:
        figure: its dotted path.
        both_legs: whether the legs of the fork are entered together, so that what is said of the left is said of each.

    >>> figure_words("front.left.installed_preload_mm"), figure_words("runs.0.front.used_mm")
    ('Installed preload, fork, left leg', 'Travel used, front, run 1')
    """
    title = figure_title(figure) or worded(figure.replace("_", " ").replace(".", ", "))
    return title.replace("left leg", "each leg") if both_legs else title


def figure_unit(figure: str) -> str:
    """The unit that the key of a figure names; that of a list stands in the key of the list.

    >>> figure_unit("front.rate_n_per_mm"), figure_unit("sag.front.rider.target_mm.1"), figure_unit("rear.motion_ratio")
    ('N/mm', 'mm', '')
    """
    named = [step for step in figure.split(".") if not step.isdigit()]
    return "N/mm" if named[0] == "working_rate" else _of_key(named[-1])[1]


def reading_words(path: Path, *, by_profile: bool) -> tuple[str, str]:
    """The short name of a recorded number, and where it stands.

    >>> reading_words(("front", "left", "spring", "free_length_mm"), by_profile=False)
    ('free length', 'Fork, left: free length')
    """
    if by_profile:
        return uncapitalised(str(path[-1]).replace("_", " ")), "by profile"
    number = f", reading {path[-1] + 1}" if isinstance(path[-1], int) else ""
    return uncapitalised(field_label(path)) + number, label(path) + number


def of_reading_words(path: Path, words: str) -> str:
    """What the mean of some readings, or an area by a diameter, is called.

    >>> of_reading_words(("sag", "front", "hanging_mm"), "mean of")
    'mean of L1, wheel hanging'
    """
    return f"{words} {uncapitalised(field_label(path))}"


def fixed_words(name: str) -> tuple[str, str]:
    """A fixed number of a formula by the name it has in the source, and its unit."""
    words, unit = _FIXED_NAMES.get(name) or _of_key(name.lower())
    return worded(words), unit


def _of_key(key: str) -> tuple[str, str]:
    """The words and the unit of a key."""
    if key.startswith(("mm_for", "turns_for")):
        unit, _, rest = key.partition("_")
        return rest.replace("_", " "), unit
    for ending, unit in _ENDINGS.items():
        if key == ending or key.endswith(f"_{ending}"):
            return (key.removesuffix(ending).strip("_") or key).replace("_", " "), unit
    return key.replace("_", " "), ""


def _section(contract: str, head: str) -> str:
    """One section of a docstring, without its indent."""
    found = re.search(rf"^ *{head}:\n((?:(?: +\S.*)?\n)*?)(?=^ *\w+:\n|^ *>>>|\Z)", f"{contract}\n", re.MULTILINE)
    return textwrap.dedent(found.group(1)).strip() if found else ""
