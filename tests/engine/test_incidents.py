"""Driven on purpose into everything there is: each gives its own incident, naming the part and what it met."""

from dataclasses import replace

import pytest

from simulator.attempt import Attempt
from simulator.drill.steering import Aim, steer
from simulator.engine.commands import Commands, UnitCommands
from simulator.engine.state import Motion
from simulator.mechanics.boom import boom_pose
from simulator.mechanics.hoist_line import rope_for_m
from simulator.mechanics.trailer_body import body
from simulator.places import find_scenario
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import TWO_BY_ONE
from simulator.scenario.site import OverheadLine
from simulator.telling.happened import told
from tests.demo import restarted, with_boom, with_hoist, with_lie, with_picks

TIP_Z_M = 9.3
BED_Z_M = load(find_scenario("tank_on_side")).site.section_m[2][1]


def tank(**site: object) -> Description:
    described = load(find_scenario("tank_on_side"))
    return replace(described, site=replace(described.site, settle_s=0.0, **site))  # type: ignore[arg-type]


def hung(described: Description, x_m: float, y_m: float, belly_m: float, *, tip_z_m: float = TIP_Z_M) -> Attempt:
    """A lift that begins with the load hanging plumb, its lowest point at `belly_m` over the road."""
    stated = body(described.trailer)
    z = belly_m - stated.low_m[2]
    units = []
    for unit, at, pick in zip(described.units, stated.picks_m, described.trailer.picks, strict=True):
        pose = boom_pose(unit, (x_m + at[0], y_m + at[1], tip_z_m))
        line = tip_z_m - z - at[2] - pick.height_m - 0.1
        rope = rope_for_m(unit.hoist, line, pose.length_m)
        length, elevation, slew = pose
        units.append(restarted(unit, rope_out_m=rope, boom_length_m=length, elevation_rad=elevation, slew_rad=slew))
    lies = with_lie(described, x_m=x_m, y_m=y_m, pitch_rad=0.0, yaw_rad=0.0, roll_rad=0.0)
    attempt = Attempt(replace(lies, units=tuple(units)))
    cg = attempt.simulation.model.body.cg_m
    attempt.incidents.clear()
    attempt.simulation.place(Motion(x_m + cg[0], y_m + cg[1], z + cg[2], 0.0, 0.0, 0.0))
    return attempt


def said(attempt: Attempt) -> str:
    """What ended a lift, in the program's own words."""
    if not attempt.incidents:
        return "nothing"
    return told(attempt.incidents[0].happening, "{:.2f} {}".format).partition(", ")[0]


def drive(attempt: Attempt, nose: UnitCommands, tail: UnitCommands, seconds: float) -> str:
    """Drive until something happens; what it was."""
    for _ in range(round(seconds * 60)):
        attempt.advance(Commands(nose, tail), attempt.every)
        if attempt.ended:
            break
    return said(attempt)


def carry(attempt: Attempt, speed_mps: float, seconds: float) -> str:
    """Both tips straight across toward the road, kept at their x and height; what happened."""
    tips = [(unit.tip_x_m, unit.tip_y_m) for unit in attempt.readings.units]
    for _ in range(round(seconds * 60)):
        now = attempt.readings
        moved = speed_mps * now.time_s
        hands = [
            steer(unit, TWO_BY_ONE.units[end], now, Aim((x, y + moved, TIP_Z_M), (0.0, speed_mps, 0.0)))
            for end, (unit, (x, y)) in enumerate(zip(attempt.description.units, tips, strict=True))
        ]
        attempt.advance(Commands(hands[0], hands[1]), attempt.every)
        if attempt.ended:
            break
    return said(attempt)


def both(**commands: float) -> tuple[UnitCommands, UnitCommands]:
    return UnitCommands(**commands), UnitCommands(**commands)


def test_deck() -> None:
    attempt = hung(tank(), -0.2, -5.0, 1.28)
    what = carry(attempt, 0.15, 40.0)
    assert what.endswith(("unit deck", "unit tailboard"))
    fields = attempt.incidents[0].fields
    assert fields["speed_mps"] >= 0.0 and {"x_m", "y_m", "z_m"} <= fields.keys()


def test_jack() -> None:
    assert drive(hung(with_boom(tank(), slew_hold_Nm=1e9), -0.2, -7.0, 0.35), *both(slew=0.6), 60.0).endswith(
        "ravine-side jack"
    )


def test_superstructure() -> None:
    what = carry(hung(tank(), -1.0, -4.0, 1.75), 0.12, 50.0)
    assert what.endswith(("nose unit superstructure", "nose unit tail swing"))


def test_boom() -> None:
    """Short rigging lets the load go up until it meets a boom."""
    short = with_picks(with_hoist(tank(), block_and_stop_m=0.2), height_m=0.4)
    what = drive(hung(short, -0.2, -2.5, 1.75), *both(hoist=0.6), 60.0)
    assert what.endswith(("nose unit boom", "tail unit boom"))


def test_slope() -> None:
    attempt = hung(tank(light_contact_mps=0.05), -0.2, -8.2, -7.0)
    assert drive(attempt, *both(slew=1.0), 40.0).endswith("meets slope")


def test_bed() -> None:
    attempt = hung(tank(light_contact_mps=0.1), -0.2, -8.0, BED_Z_M + 2.0)
    assert drive(attempt, *both(hoist=-1.0), 40.0).endswith("meets bed")


def test_a_light_touch_of_the_bed_goes_on() -> None:
    attempt = hung(tank(), -0.2, -8.0, BED_Z_M + 1.7)
    assert drive(attempt, *both(hoist=-0.2), 25.0) == "nothing"
    assert attempt.readings.load.ground_N > 0.0


def test_live_lane() -> None:
    attempt = hung(tank(live_lane_y_m=9.0), -0.2, 6.3, 1.75)
    assert drive(attempt, *both(elevation=-0.8), 60.0).endswith("meets live lane")


def test_overhead_line() -> None:
    line = OverheadLine(y_m=-4.5, height_m=14.0, kilovolt=34.5)
    what = drive(hung(tank(overhead_line=line), -0.2, -6.0, 1.75), *both(elevation=1.0), 60.0)
    assert what.endswith("meets overhead line")


@pytest.mark.parametrize("speed", [0.25, 1.0])
def test_the_face_is_never_tunnelled(speed: float) -> None:
    attempt = hung(tank(light_contact_mps=10.0), -0.2, -7.8, -7.0)
    for _ in range(60 * 20):
        attempt.advance(Commands(*both(slew=speed)), attempt.every)
        assert attempt.readings.load.y_m < -5.3
