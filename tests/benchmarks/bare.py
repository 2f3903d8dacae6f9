"""The least a Textual application can be: one input, and a label that copies it. What starting.py measures against."""

from __future__ import annotations

from textual.app import App, ComposeResult
from textual.widgets import Input, Label


class BareApp(App[None]):
    """One input and its copy."""

    ENABLE_COMMAND_PALETTE = False

    def compose(self) -> ComposeResult:
        """Input and label."""
        yield Input()
        yield Label("READY")

    def on_input_changed(self, event: Input.Changed) -> None:
        """Copy what was typed."""
        self.query_one(Label).update(f"copy {event.value}")


if __name__ == "__main__":
    BareApp().run(mouse=False)
