"""Every screen that a key leads to, by its name; those not needed to start are imported when they are first shown."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

from stanchion.ui.core import PARTS, PartName
from stanchion.ui.screens.setup_screens import FrontScreen, RearScreen, SagScreen

if TYPE_CHECKING:
    from stanchion.ui.commands.jobs import Jobs
    from stanchion.ui.commands.story import StoryCommands
    from stanchion.ui.core import CoreApp
    from stanchion.ui.screens.app_screen import AppScreen

ScreenName = PartName | Literal["story", "jobs"]
SCREENS: tuple[ScreenName, ...] = (*PARTS, "story", "jobs")


def make_screen(name: ScreenName, app: CoreApp, jobs: Jobs, story: StoryCommands) -> AppScreen[Any]:  # noqa: C901
    """A screen, which Textual asks for when it is first shown."""
    match name:
        case "machine":
            from stanchion.ui.screens.machine import MachineScreen  # noqa: PLC0415

            return MachineScreen()
        case "front":
            return FrontScreen()
        case "rear":
            return RearScreen()
        case "sag":
            return SagScreen()
        case "adjusters":
            from stanchion.ui.screens.adjusters import AdjustersScreen  # noqa: PLC0415

            return AdjustersScreen()
        case "damping":
            from stanchion.ui.screens.damping import DampingScreen  # noqa: PLC0415

            return DampingScreen()
        case "predict":
            from stanchion.ui.screens.predict import PredictScreen  # noqa: PLC0415

            return PredictScreen()
        case "balance":
            from stanchion.ui.screens.balance import BalanceScreen  # noqa: PLC0415

            return BalanceScreen()
        case "dampers":
            from stanchion.ui.screens.dampers import DampersScreen  # noqa: PLC0415

            return DampersScreen()
        case "linkage":
            from stanchion.ui.screens.linkage import LinkageScreen  # noqa: PLC0415

            return LinkageScreen()
        case "gas":
            from stanchion.ui.screens.gas import GasScreen  # noqa: PLC0415

            return GasScreen()
        case "trial":
            from stanchion.ui.screens.trial import TrialScreen  # noqa: PLC0415

            return TrialScreen()
        case "runs":
            from stanchion.ui.screens.runs import RunsScreen  # noqa: PLC0415

            return RunsScreen()
        case "what_to_try":
            from stanchion.ui.screens.what_to_try import WhatToTryScreen  # noqa: PLC0415

            return WhatToTryScreen()
        case "upkeep":
            from stanchion.ui.screens.upkeep import UpkeepScreen  # noqa: PLC0415

            return UpkeepScreen()
        case "springs":
            from stanchion.ui.screens.springs import SpringsScreen  # noqa: PLC0415

            return SpringsScreen()
        case "earlier":
            from stanchion.ui.screens.earlier import EarlierScreen  # noqa: PLC0415

            return EarlierScreen()
        case "worklist":
            from stanchion.ui.screens.worklist import WorkListScreen  # noqa: PLC0415

            return WorkListScreen()
        case "story":
            from stanchion.ui.screens.story import StoryScreen  # noqa: PLC0415

            return StoryScreen(app, jobs, story)
        case "jobs":
            from stanchion.ui.screens.jobs import JobsScreen  # noqa: PLC0415

            return JobsScreen(app, jobs, story)
