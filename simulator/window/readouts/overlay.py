"""What is drawn over the scene: gap blocks, outrigger boards, plumb roses and their tags; in a turn the gauge too."""

from __future__ import annotations

from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.window.hands.bindings import Labels
from simulator.window.kit.canvas import Canvas, Spot
from simulator.window.kit.palette import INK_3, PANEL, RULE
from simulator.window.kit.regions import SCENE, screen_sign
from simulator.window.kit.seen import seen_of
from simulator.window.readouts.gap_blocks import APART, Extent, Undersides, draw_gap_blocks, underside, whole
from simulator.window.readouts.outrigger_board import HEIGHT as BOARD_HEIGHT
from simulator.window.readouts.outrigger_board import WIDTH as BOARD_WIDTH
from simulator.window.readouts.outrigger_board import BoardCorner, BoardPicture, board_place, draw_leaders
from simulator.window.readouts.readouts import Readouts
from simulator.window.readouts.rose import Trail, draw_rose, rose_look
from simulator.window.readouts.rose_tag import ABOVE_CENTER, HEADROOM, TEXT_H, TagPicture, tag_look
from simulator.window.readouts.rose_tag import HEIGHT as TAG_HEIGHT
from simulator.window.readouts.rose_tag import WIDTH as TAG_WIDTH
from simulator.window.readouts.stop_band import BAND_FOOT
from simulator.window.readouts.turning_panels import GaugePicture
from simulator.window.scene.camera import Camera, rose_radius

TAG_GAP = 14.0
MARGIN = 8.0
ACROSS_RADIUS, WORDS_H = 84.0, 88.0
"""Of a rose beside the large section; room for what stands at the scene's head there."""
TAG_GROUND_W = TAG_WIDTH + 2.0 * TAG_GAP
"""Of the panel under a tag beside the large section."""
ROOF_M = 4.0
"""No truck stands higher over the road."""


class Overlay:
    """Draws over the side view of one lift."""

    def __init__(self, description: Description, canvas: Canvas) -> None:
        self._description = description
        self._seen = seen_of(description)
        self._trails = tuple(Trail() for _ in self._seen.units)
        self._undersides = Undersides(description.trailer)
        self._boards = tuple(BoardPicture(canvas, side) for side in self._seen.sides)
        self._tags = tuple(TagPicture(canvas, side) for side in self._seen.sides)
        self._gauge = GaugePicture(canvas)
        self._due: list[BoardPicture | TagPicture | GaugePicture] = []
        self.shows_roses = True

    def renew(self, readouts: Readouts, labels: Labels) -> None:
        """Bring tags and boards up to date with the readouts, all at once."""
        self.note(readouts, labels)
        self.draw_due(len(self._due))

    def draw_due(self, most: int) -> int:
        """Draw again so many of the tags and boards whose look has changed; answers how many it was."""
        now, self._due = self._due[:most], self._due[most:]
        for picture in now:
            picture.redraw()
        return len(now)

    def note(self, readouts: Readouts, labels: Labels) -> None:
        """Take the looks of tags and boards from the readouts; those that changed are due to be drawn."""
        for seen, tag, board in zip(self._seen.units, self._tags, self._boards, strict=True):
            row = tag_look(
                readouts.readings,
                seen,
                readouts.advice[seen.place],
                readouts.off_plumb_level(seen.place),
                labels,
                plumb_rad=self._description.limits.plumb_rad,
                sign=screen_sign(self._description),
            )
            pictures = ((tag.take(row), tag), (board.take(readouts.board_look(seen.place)), board))
            self._due += [picture for is_other, picture in pictures if is_other and picture not in self._due]
        if readouts.is_across and self._gauge.take(readouts.gauge) and self._gauge not in self._due:
            self._due.append(self._gauge)

    def draw(self, canvas: Canvas, camera: Camera, readings: Readings, readouts: Readouts) -> None:
        """Draws everything, in the order of depth."""
        extents = self._undersides.extents(camera, readings)
        road_y = camera.to_scene(0.0, 0.0)[1]
        with canvas.clip(*SCENE):
            self._draw_boards(canvas, camera, road_y, whole(extents))
            self._draw_gaps(canvas, camera, road_y, extents, readouts)
            if self.shows_roses:
                self._draw_roses(canvas, camera, readings, readouts)

    def draw_across(self, canvas: Canvas, readings: Readings, readouts: Readouts, *, sign: float) -> None:
        """Draws what lies over the large section: roses with their tags at its sides, boards and gauge at its foot."""
        head = BAND_FOOT if readouts.is_stopped else SCENE.y + WORDS_H
        with canvas.clip(*SCENE):
            for seen, board, tag, trail in zip(self._seen.units, self._boards, self._tags, self._trails, strict=True):
                x = SCENE.x + 8.0 if seen.side == 0 else SCENE.right - 8.0 - BOARD_WIDTH
                board.show(canvas, BoardCorner(x, SCENE.foot - 8.0 - BOARD_HEIGHT))
                row = rose_look(seen.unit, readings, trail, sign, readouts.off_plumb_level(seen.place))
                if self.shows_roses:
                    y = head + ACROSS_RADIUS + 8.0
                    draw_rose(canvas, seen.side, x + BOARD_WIDTH / 2.0, y, ACROSS_RADIUS, row, self._description.limits)
                    top = y + ACROSS_RADIUS + 32.0
                    left = SCENE.x + 8.0 if seen.side == 0 else SCENE.right - 8.0 - TAG_GROUND_W
                    canvas.box(left, top - 18.0, TAG_GROUND_W, TAG_HEIGHT + 30.0, fill=PANEL, edge=RULE, radius=8.0)
                    tag.show(canvas, left + (TAG_GROUND_W - TAG_WIDTH) / 2.0, top)
            self._gauge.show(canvas)

    def _draw_gaps(
        self, canvas: Canvas, camera: Camera, road_y: float, extents: dict[str, Extent], readouts: Readouts
    ) -> None:
        gaps_m = {row.part: row.gap_m for row in readouts.readings.gaps}
        met = tuple(row for row in readouts.parts if row.has_gap and not row.is_beside)
        places = tuple(underside(extents[row.name], gaps_m[row.name], camera.scale) for row in met)
        draw_gap_blocks(canvas, met, places, road_y)

    def _draw_boards(self, canvas: Canvas, camera: Camera, road_y: float, load: Extent) -> None:
        beads = 2.0 * APART
        is_low = load.foot + beads > road_y
        blocked = (load.left, load.right) if is_low and load.top < SCENE.foot else None
        for seen, board in zip(self._seen.units, self._boards, strict=True):
            jacks = self._jacks_x(camera, seen.place)
            place = board_place(seen.side, jacks, road_y, blocked)
            draw_leaders(canvas, place, jacks, road_y)
            board.show(canvas, place)

    def _jacks_x(self, camera: Camera, place: int) -> tuple[float, float]:
        unit = self._description.units[place]
        toward = unit.facing
        near = unit.slew_axis_x_m + toward * unit.floats.toward_tailboard_m
        far = unit.slew_axis_x_m - toward * unit.floats.toward_cab_m
        return camera.to_scene(near, 0.0)[0], camera.to_scene(far, 0.0)[0]

    def _draw_roses(self, canvas: Canvas, camera: Camera, readings: Readings, readouts: Readouts) -> None:
        radius = rose_radius(camera.scale)
        units = [readings.units[seen.place] for seen in self._seen.units]
        tips = [camera.to_scene(unit.tip_x_m, unit.tip_z_m) for unit in units]
        middle = sum(tip[0] for tip in tips) / len(tips) if len(tips) > 1 else None
        for seen, trail, tag, tip in zip(self._seen.units, self._trails, self._tags, tips, strict=True):
            x, y = rose_place(seen.side, tip, middle, radius, head=BAND_FOOT if readouts.is_stopped else SCENE.y)
            if abs(x - tip[0]) > 1.0:
                canvas.line(tip, (x, y), INK_3, width=2.0)
            level = readouts.off_plumb_level(seen.place)
            row = rose_look(seen.unit, readings, trail, camera.sign, level)
            draw_rose(canvas, seen.side, x, y, radius, row, self._description.limits)
            left, top = tag_x(seen.side, x, radius), y - ABOVE_CENTER
            if top + TEXT_H > camera.to_scene(0.0, ROOF_M)[1]:
                # A low boom brings the tag down over the trucks: its words need a ground of their own.
                canvas.box(left - 6.0, top - 6.0, TAG_WIDTH + 12.0, TEXT_H + 4.0, fill=PANEL, edge=RULE, radius=8.0)
            tag.show(canvas, left, top)


def rose_place(side: int, tip: Spot, middle_x: float | None, radius: float, *, head: float = SCENE.y) -> Spot:
    """Where a rose stands: over its tip, slid outward from the middle between two tips if the roses would touch, inward
    if its tag had no room, down from the scene's `head`."""
    apart = 2.0 * radius + 2.0 * MARGIN
    x, y = tip
    y = min(max(y, head + MARGIN + max(radius, ABOVE_CENTER + HEADROOM)), SCENE.y + 220.0)
    room = radius + TAG_GAP + TAG_WIDTH + MARGIN
    if side == 0:
        return max(x if middle_x is None else min(x, middle_x - apart / 2.0), SCENE.x + room), y
    return min(x if middle_x is None else max(x, middle_x + apart / 2.0), SCENE.right - room), y


def tag_x(side: int, x: float, radius: float) -> float:
    """The left edge of a tag at the outer side of its rose."""
    return x - radius - TAG_GAP - TAG_WIDTH if side == 0 else x + radius + TAG_GAP
