"""The machine and its parts drawn to scale, as plain display lists: front, side, plan, rail and section."""

from core.drawing.views.front import front_view
from core.drawing.views.plan_view import plan_view
from core.drawing.views.rail import rail_drawing
from core.drawing.views.section import section_drawing
from core.drawing.views.shape import auto_exaggeration
from core.drawing.views.side import side_view

__all__ = ["auto_exaggeration", "front_view", "plan_view", "rail_drawing", "section_drawing", "side_view"]
