"""The demo set's numbers as descriptions: trailer on its side or on its wheels between the same two units. Invented."""

from math import radians

from simulator.mechanics.boom import BoomPose
from simulator.mechanics.clearance.scene import Pose
from simulator.mechanics.trailer_body import lying, stated_cg_m
from simulator.scenario.description import Description, Landing, Path
from simulator.scenario.site import Site
from simulator.scenario.trailer import Cargo, Part, Trailer, TrailerStart
from simulator.scenario.unit import Equipment, Unit
from tests.demo import demo_unit, pair_of_picks

WIDTH_M, HEIGHT_M, LONG_M = 2.6, 4.0, 14.6
DECK_M, RIGGING_M, BLOCK_AND_STOP_M, TIP_M = 1.35, 2.3, 1.0, 9.3

SITE = Site(
    section_m=((14.0, 0.0), (-4.65, 0.0), (-5.3, -12.0), (-20.0, -12.0)),
    edge_y_m=-4.65,
    live_lane_y_m=10.0,
)
WINCH = Equipment("deck winch", 1.4, 2.2, 1.0, 1.7)
NOSE_UNIT, TAIL_UNIT = demo_unit("nose"), demo_unit("tail")


PARTS = (
    Part("shell", ((-7.3, 1.2), (7.3, 1.2), (7.3, 4.0), (-7.3, 4.0)), 2.6, 5e3),
    Part("nose plate", ((-7.2, 1.0), (-5.5, 1.0), (-5.5, 1.2), (-7.2, 1.2)), 2.4, 0.4e3),
    Part("landing legs", ((-4.8, 0.1), (-4.4, 0.1), (-4.4, 1.2), (-4.8, 1.2)), 2.2, 0.3e3),
    Part("valve box", ((-0.6, 0.6), (0.6, 0.6), (0.8, 1.2), (-0.8, 1.2)), 1.6, 0.3e3),
    Part("axle group", ((3.5, 0.2), (3.8, 0.0), (6.0, 0.0), (6.3, 0.2), (6.3, 0.9), (3.5, 0.9)), 2.5, 2.5e3),
    Part("bumper", ((7.1, 0.5), (7.3, 0.5), (7.3, 0.7), (7.1, 0.7)), 2.4, 0.1e3),
)


def trailer(*, on_wheels: bool = False, parts: tuple[Part, ...] = PARTS) -> Trailer:
    y, z = (0.0, HEIGHT_M) if on_wheels else (WIDTH_M / 2.0, HEIGHT_M / 2.0)
    return Trailer(
        parts=parts,
        cargo=Cargo(17.4e3, (-0.4, 0.0, 2.2), (13.0, 2.2, 2.0)),
        picks=pair_of_picks((-6.4, y, z), (6.0, y, z), height_m=RIGGING_M),
        start=TrailerStart(0.0, -8.0),
        attitude="on_wheels" if on_wheels else "top_to_ravine",
    )


def description(
    *,
    load: Trailer | None = None,
    site: Site = SITE,
    landing_y_m: float = 6.6,
    nose: Unit = NOSE_UNIT,
    tail: Unit = TAIL_UNIT,
) -> Description:
    return Description(
        title="demo",
        story="invented",
        site=site,
        units=(nose, tail),
        trailer=load or trailer(),
        path=Path(1.8, TIP_M),
        landing=Landing(landing_y_m),
    )


def pose(load: Trailer, *, belly_m: float, middle_y_m: float, middle_x_m: float = 0.0) -> Pose:
    """A level pose by the trailer's lowest point and the middle of its outline."""
    x, y, z = lying(load.attitude, stated_cg_m(load))
    on_wheels = load.attitude == "on_wheels"
    across, low = (0.0, 0.0) if on_wheels else (-HEIGHT_M / 2.0, -WIDTH_M / 2.0)
    return Pose(middle_x_m + x, middle_y_m + y - across, belly_m + z - low)


def boom(length_m: float, elevation_deg: float, slew_deg: float) -> BoomPose:
    return BoomPose(length_m, radians(elevation_deg), radians(slew_deg))


STATIONS = {
    "on the bed": (-8.0, boom(11.7, 34.8, -71.5), boom(11.8, 34.4, -69.0)),
    "crossing": (-4.0, boom(9.0, 48.1, -56.2), boom(9.2, 47.0, -52.4)),
    "over tailboards": (0.0, boom(7.7, 60.0, 0.0), boom(7.9, 57.5, 0.0)),
    "landed": (6.6, boom(10.7, 38.8, 67.9), boom(10.8, 38.3, 65.0)),
}
"""Middle y, nose boom, tail boom: from the demo set."""
