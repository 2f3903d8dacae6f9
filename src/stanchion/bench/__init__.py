"""The open job without a screen, with its files, settings and spring stock."""
