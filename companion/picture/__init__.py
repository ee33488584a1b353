"""The stage screen and the printed leaves as SVG, for pages. Pure: no window, no PDF, no file is opened but fonts."""

from companion.picture.leaf_svg import chart_svgs
from companion.picture.moments import Moment, moment_view
from companion.picture.stage_svg import FACE_NAMES, stage_svg

__all__ = ["FACE_NAMES", "Moment", "chart_svgs", "moment_view", "stage_svg"]
