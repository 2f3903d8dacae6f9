"""What the round of lifting has given so far, and its end, as lines of styled text. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from textual.content import Content

from stanchion.base.text import clean
from stanchion.bench.guided_measuring import LIFT_DOUBTS, GuideStep
from stanchion.bench.session import Session
from stanchion.job.model import STATES, Job, State
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import SCALE_UNCERTAINTY_KG
from stanchion.judgement.predict.balance import balance_figures
from stanchion.judgement.predict.lift_improvement import lift_improvement
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.balance import BalanceFigures, WheelWeights
from stanchion.judgement.results.figures import Figure
from stanchion.ui import present
from stanchion.ui.space import cut
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.american import worded
from stanchion.wording.balance_sentences import height_words
from stanchion.wording.finding_words import reason, sentence
from stanchion.wording.lifting_guide_sentences import ASSUMED, SCATTER, improvement_words
from stanchion.wording.verdicts import STATE_WORDS

HEAD, MUTED, FIGURE = "$primary bold", "$text-muted", "$figure bold"
NAME, CELL = 17, 15
NO_FIGURES: BalanceFigures | None = None


def of_lifting(step: GuideStep) -> bool:
    """Whether a reading is one of this round."""
    return step.path[0] in ("geometry", "weights", "balance")


def lifting_outcome(session: Session, job: Job, a: Assessment) -> list[Content]:
    """Where the centre of mass lies so far, in four lines.

    Args:
        session: the open job, for its units.
        job: the job as of the reading taken last.
        a: its assessment.
    """
    figures, units = session.judged("prediction", NO_FIGURES, balance_figures, job, a), session.units
    if figures is None:
        return [present.NOT_JUDGED]
    length = unit_name(Kind.LENGTH, units)
    head = Content.styled(worded("CENTRE OF MASS").ljust(NAME), HEAD)
    head += Content.styled("".join(STATE_WORDS[state].ljust(CELL) for state in STATES).rstrip(), HEAD)
    rows = [head]
    for name, field, doubt in (
        (f"ahead, {length}", "ahead_mm", "ahead_expanded_mm"),
        (f"up, {length}", "height_mm", "height_expanded_mm"),
    ):
        row = Content.styled(name.ljust(NAME), MUTED)
        for state in STATES:
            of = figures.states[state]
            row += Content.styled(_cell(getattr(of, field), getattr(of, doubt), units).ljust(CELL), FIGURE)
        rows.append(row)
    return [*rows, Content.styled(cut(_why_not(figures), NAME + 2 * CELL), MUTED)]


def _cell(figure: Figure, doubt: Figure, units: Units) -> str:
    if figure.value is None:
        return "–"
    mark = present.ESTIMATED if figure.estimate else ""
    number, *sure = (
        show(one.value, Kind.LENGTH, units).split(" ")[0] for one in (figure, doubt) if one.value is not None
    )
    return f"{mark}{number}" + (f" ± {sure[0]}" if sure else "")


def _why_not(figures: BalanceFigures) -> str:
    """Why there is no height yet, where there is none."""
    for state in STATES:
        height = figures.states[state].height_mm
        if not height.known and height.problem != "not_lifted":
            return clean(reason(height))
    return ""


def lifting_end(session: Session, width: int) -> Iterator[Content]:
    """After the last reading: the height of each state with its uncertainty, what would lower it, what is in doubt."""
    job, a = session.job, session.assessment
    figures = session.judged("prediction", NO_FIGURES, balance_figures, job, a)
    if figures is None:
        yield present.NOT_JUDGED
        return
    for state in STATES:
        yield Content.styled(STATE_WORDS[state].upper(), HEAD)
        for words in _state_words(session, state, figures.states[state]):
            yield from (Content(line) for line in textwrap.wrap(words, width))
    if any(of.height_from == "lifted" for of in figures.states.values()):
        assumed = ASSUMED.format(scale=show(2.0 * SCALE_UNCERTAINTY_KG, Kind.MASS, session.units))
        yield from (Content.styled(line, MUTED) for line in textwrap.wrap(assumed, width))
    for finding in a.findings:
        if finding.code in LIFT_DOUBTS:
            yield from (
                Content.styled(line, "$warn bold") for line in textwrap.wrap(sentence(finding, session.units), width)
            )
            yield Content("")


def _state_words(session: Session, state: State, weights: WheelWeights) -> Iterator[str]:
    yield worded(f"Centre of mass, height: {height_words(weights, session.units)}.")
    better = session.judged("prediction", None, lift_improvement, session.job, session.assessment, state)
    if better is None:
        return
    if better.scatters:
        yield SCATTER
        return
    yield improvement_words(better.raised_mm, better.higher_mm, better.again_mm, session.units)
