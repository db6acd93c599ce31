"""Plots as files, drawn without a window: tip deflection along X, sag and path error, compliance budget."""

from __future__ import annotations

from app.plots.figures import plot_files

__all__ = ["plot_files"]
