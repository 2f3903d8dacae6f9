"""What the round at the swingarm has given so far, as lines of styled text. Pure."""

from __future__ import annotations

from textual.content import Content

from stanchion.base.text import clean
from stanchion.bench.guided_measuring import GuideStep
from stanchion.bench.session import Session
from stanchion.job.model import Job
from stanchion.job.spec import Kind
from stanchion.judgement.predict.gas import gas_figures
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.gas import GasFigures
from stanchion.ui import present
from stanchion.wording.figure_names import FIGURE_NAMES, ON_THE_GAS
from stanchion.wording.finding_words import reason
from stanchion.wording.gas_sentences import percent, shown

HEAD, MUTED, FIGURE = "$primary bold", "$text-muted", "$figure bold"
NAME = 19


def of_swingarm(step: GuideStep) -> bool:
    """Whether a reading is one of this round."""
    return step.path[0] in ("swingarm", "drive", "upkeep")


def swingarm_outcome(session: Session, job: Job, a: Assessment) -> list[Content]:
    """Angles of swingarm and chain and the anti-squat, or what they wait for, in four lines.

    Args:
        session: the open job, for its units.
        job: the job as of the reading taken last.
        a: its assessment.
    """
    none: GasFigures | None = None
    gas = session.judged("prediction", none, gas_figures, job, a, whole=False)
    if gas is None:
        return [present.NOT_JUDGED]
    stands = gas.stands
    rows: tuple[tuple[str, Figure, str], ...] = (
        ("arm_deg", stands.arm_deg, shown(stands.arm_deg, Kind.ANGLE, session.units)),
        ("chain_deg", stands.chain_deg, shown(stands.chain_deg, Kind.ANGLE, session.units)),
        ("anti_squat_pct", stands.anti_squat_pct, percent(stands.anti_squat_pct)),
    )
    lines = [Content.styled(f"{ON_THE_GAS.upper()}, AT RIDER SAG", HEAD)]
    for name, figure, words in rows:
        label = Content.styled(FIGURE_NAMES[name].ljust(NAME), MUTED)
        mark = present.ESTIMATED if figure.estimate else ""
        known = Content.styled(f"{mark}{words}", FIGURE)
        lines.append(label + (known if figure.known else Content.styled(clean(reason(figure)), MUTED)))
    return lines
