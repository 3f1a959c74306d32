"""The paper for the roadside: what is set up and where, to scale, in type that is read at arm's length and in gray.

Two pages, letter or A4, and a third where the signatures have no room. It permits nothing: every number that somebody
assumed is listed as assumed.
"""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from pathlib import Path

from matplotlib import rc_context
from matplotlib.axes import Axes
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.patches import Rectangle

from simulator.files.writing import SHEET, write_whole
from simulator.plan.exit_plan import ExitPlan
from simulator.plan.findings import ORDER
from simulator.plan.out_of_reach import OutOfReach
from simulator.plan.rigging_list import EndRigging
from simulator.plan.setup_check import SetupCheck
from simulator.report.amounts import Amounts
from simulator.report.plan.drag_lines import drag_lines
from simulator.report.plan.exit_lines import NO_WORD, exit_sentences
from simulator.report.plan.plan_sheet import FIRST_SIGNER, LAST_SIGNERS, VERDICTS
from simulator.report.plan.setup_lines import missing_words, sentence, unit_names
from simulator.report.plan.sheet_views import draw_plan
from simulator.report.sheet import AS_TEXT, MARGIN_MM, Column, Sheet
from simulator.scenario.asked_numbers import INCH_M, Field, written
from simulator.scenario.standing import is_short_jacked, pads_from_m
from simulator.scenario.unit import Unit

SIZE, SMALL = 10.5, 8.5
BARE = {"facecolor": "white", "edgecolor": "none", "pad": 0.8}
"""Under a dimension's text, so that no line runs through it."""
"""Points: to be read at arm's length; for lists."""
NUMBERS = (Column("", 0.0, 62.0), Column("", 64.0, 118.0))
STOP_WORDS = (
    "STOP from anyone, by voice, radio or arm: every unit holds at once. It goes on when each operator has said ready."
)
HAND_OVER = (
    "After landing: lines slack, load blocked, pads clear. Handed over to ______________ at ______ by ______________"
)
HAND_OVER_LOADED = (
    "After landing: lines slack, load lashed, booms clear. Handed over to ______________ at ______ by ______________"
)

MOST_TOLD, MOST_ASSUMED = 7, 120
DARK, MIDDLE, LIGHT = "black", "0.45", "0.85"


def write_roadside(
    check: SetupCheck,
    path: Path,
    amounts: Amounts,
    caution: str,
    *,
    paper: str = "letter",
    assumed: Sequence[str] = (),
    before: OutOfReach | None = None,
) -> None:
    """Write it as a PDF; the same set-up gives the same bytes.

    Args:
        check: the set-up, judged.
        path: the file to write.
        amounts: how numbers are written.
        caution: the program's caution, on each page.
        paper: `letter` or `a4`.
        assumed: numbers that the scenario's own file marks as assumed, as they stand there.
        before: what has to come before the lift.
    """
    with rc_context(AS_TEXT):
        signed = {"CreationDate": None, "Title": "Roadside sheet", "Creator": SHEET.mark.decode()}
        whole = BytesIO()
        with PdfPages(whole, metadata=signed) as pages:
            for sheet in roadside_sheets(check, amounts, caution, paper=paper, assumed=assumed, before=before):
                pages.savefig(sheet.figure)
        write_whole(path, whole.getvalue())


def roadside_sheets(
    check: SetupCheck,
    amounts: Amounts,
    caution: str,
    *,
    paper: str,
    assumed: Sequence[str] = (),
    before: OutOfReach | None = None,
) -> list[Sheet]:
    """All pages, drawn. Arguments as `write_roadside`."""
    first, second = Sheet(paper), Sheet(paper)
    _head(first, check, amounts)
    for name, value in number_rows(check, amounts):
        first.row(NUMBERS, (name, value), size=SIZE)
    _views(first, check, amounts)
    _second(second, check, amounts, assumed, before)
    sheets = [first, second]
    if second.left_mm < 11.0 * (3 + len(check.description.units)) + 16.0:
        sheets.append(Sheet(paper))
    _signatures(sheets[-1], check)
    invented = "Invented demo data" if check.description.invented else "By the numbers of its file"
    for page, sheet in enumerate(sheets, 1):
        sheet.foot(caution, invented, page, len(sheets))
    return sheets


def _head(sheet: Sheet, check: SetupCheck, amounts: Amounts) -> None:
    sheet.write(amounts.told(check.description.title), size=15.0, bold=True, gap_mm=0.5)
    said = VERDICTS[check.verdict].rstrip("*")
    words = f"{said}. By these numbers and assumptions only; nothing is lifted on this sheet alone."
    sheet.write(words, size=SIZE, bold=True)
    sheet.rule(heavy=True)


def number_rows(check: SetupCheck, amounts: Amounts) -> list[tuple[str, str]]:
    """What is set up, each number with its name."""
    described, body, path = check.description, check.load.body, check.description.path
    length, weight = body.high_m[0] - body.low_m[0], amounts.text(check.load.weight_N, "N")
    landing = _length(described.landing.y_m, amounts)
    return [
        *([("Gap between tailboards", _length(described.gap_m, amounts))] if len(described.units) > 1 else []),
        *(_stands(unit, described.site.edge_y_m, amounts) for unit in described.units),
        ("Weight, as assumed", f"{weight}; the load is {_length(length, amounts)} long"),
        ("Heavy end, as assumed", _heavy(check, amounts)),
        *(row for one in check.rigging for row in _rigged(check, one, amounts)),
        ("Who leads", f"{path.leader} unit"),
        ("Lowest point over the road", _length(path.belly_over_road_m, amounts)),
        ("Boom tips over the road", _length(path.tip_height_m, amounts)),
        ("Landing", f"its middle {landing} past the units' axis, away from the edge"),
        *_waits(check, amounts),
    ]


def _waits(check: SetupCheck, amounts: Amounts) -> list[tuple[str, str]]:
    """Where the waiting flat trailer is put, from what is there to measure from."""
    plan = check.exit_plan
    if plan is None:
        return []
    (low_x, high_x), (low_y, high_y) = plan.deck_x_m, plan.deck_y_m
    first = check.description.units[0]
    front = first.facing * (low_x - first.slew_axis_x_m)
    toward = "toward the load" if front >= 0.0 else "away from the load"
    at = f"its end {_length(abs(front), amounts)} {toward} from the {first.name} unit's slew axis"
    long, wide = _length(high_x - low_x, amounts), _length(high_y - low_y, amounts)
    pads = plan.from_pads_m
    return [
        ("Waits there", f"flat trailer, deck {long} by {wide}, {_length(plan.deck_m, amounts)} over the road"),
        ("Where it stands", f"its side {_length(pads, amounts)} from the pads; {at}"),
        ("Loaded", f"{_length(plan.loaded_m, amounts)} high; leaves {_leaves(plan)}"),
    ]


def _leaves(plan: ExitPlan) -> str:
    return NO_WORD if plan.leaves is None else f"toward the load's {plan.leaves}"


def _stands(unit: Unit, edge_y_m: float, amounts: Amounts) -> tuple[str, str]:
    floats = unit.floats
    set_back = _length(pads_from_m(unit) - edge_y_m, amounts)
    words = f"{set_back}; mat at least {_length(floats.pad_side_m, amounts)} square"
    how = f"; {unit.configuration}" if unit.configuration else ""
    if unit.yaw_rad:
        toward = "road" if unit.yaw_rad > 0.0 else "edge"
        how += f"; {amounts.text(abs(unit.yaw_rad), 'rad')} askew, tailboard toward the {toward}"
    if is_short_jacked(unit):
        how += f"; jacks {_length(floats.road_m, amounts)} road side, {_length(floats.ravine_m, amounts)} ravine side"
    return f"{unit.name.capitalize()} unit: pad to edge", words + how


def _rigged(check: SetupCheck, one: EndRigging, amounts: Amounts) -> list[tuple[str, str]]:
    """A pick's distance from the nearer end, and what hangs there."""
    body, name = check.load.body, one.line.replace("_", " line ").capitalize()
    x = body.picks_m[[pick.name for pick in check.description.trailer.picks].index(one.pick.name)][0]
    from_front, from_rear = x - body.low_m[0], body.high_m[0] - x
    end = "front" if from_front < from_rear else "rear"
    near = f"{_length(min(from_front, from_rear), amounts)} from its {end} end"
    hook = amounts.text(one.hook_load_N, "N")
    pieces = ", ".join(dict.fromkeys(piece.held.piece.name for piece in one.pieces))
    legs = f"{one.legs} legs" if one.legs != 1 else "1 leg"
    words = f"{one.pick.kind}, {legs}; at most {hook} on the hook" + (f"; {pieces}" if pieces else "")
    return [
        (f"{name} pick", f"{near}; hook {_length(one.pick.height_m, amounts)} over it"),
        (f"{name} rigging", words),
    ]


LENGTH = Field("", "length", -1e4, 1e4, 1.0)


def _length(value_m: float, amounts: Amounts) -> str:
    """As a tape measure has it: meters to a centimeter, or feet and whole inches."""
    if amounts.system == "metric":
        return amounts.text(value_m, "m")
    return written(round(value_m / INCH_M) * INCH_M, LENGTH, "us")


def _heavy(check: SetupCheck, amounts: Amounts) -> str:
    """Where the center of gravity is along the load."""
    body = check.load.body
    from_front, from_rear = body.cg_m[0] - body.low_m[0], body.high_m[0] - body.cg_m[0]
    end = "front" if from_front < from_rear else "rear"
    front, rear = _length(from_front, amounts), _length(from_rear, amounts)
    return f"{end}; center of gravity {front} from the front end, {rear} from the rear"


def _views(sheet: Sheet, check: SetupCheck, amounts: Amounts) -> None:
    """Section and plan side by side, each to one scale both ways."""
    sheet.y_mm += 1.0
    wide = sheet.inside_mm / 2.0 - 3.0
    high = min(sheet.left_mm - 4.0, 105.0)
    plan = f"Plan, to scale; most on each float, {amounts.load_unit}"
    for x, words in ((MARGIN_MM, "Section across the slope, to scale"), (MARGIN_MM + wide + 6.0, plan)):
        sheet.put(words, x, sheet.y_mm, size=SMALL, bold=True)
    draw_section(sheet.axes(MARGIN_MM, sheet.y_mm + 5.0, wide, high - 5.0), check, amounts)
    draw_plan(sheet.axes(MARGIN_MM + wide + 6.0, sheet.y_mm + 5.0, wide, high - 5.0), check, amounts)
    sheet.y_mm += high


def draw_section(axes: Axes, check: SetupCheck, amounts: Amounts) -> None:
    """Slope, pads, unit and load across the road, with the distances that are measured."""
    site, unit = check.description.site, check.description.units[0]
    body, floats = check.load.body, unit.floats
    first, last = check.stations[0].station.pose, check.stations[-1].station.pose
    half_high = max(body.high_m[2], 0.5)
    low_y, high_y = first.y_m + body.low_m[1] - 1.5, max(last.y_m + body.high_m[1], site.live_lane_y_m) + 1.0
    axes.plot([y for y, _ in site.section_m], [z for _, z in site.section_m], color=DARK, linewidth=1.6)
    middle = unit.slew_axis_y_m
    for y in (middle - floats.ravine_m - floats.pad_side_m / 2.0, middle + floats.road_m - floats.pad_side_m / 2.0):
        axes.add_patch(Rectangle((y, 0.0), floats.pad_side_m, 0.25, facecolor=DARK))
    half = unit.carrier_width_m / 2.0
    axes.add_patch(Rectangle((middle - half, 0.4), 2.0 * half, unit.deck_height_m, facecolor=LIGHT, edgecolor=DARK))
    if (waits := check.exit_plan) is not None:
        low, high = waits.deck_y_m
        axes.add_patch(Rectangle((low, 0.0), high - low, waits.deck_m, facecolor=MIDDLE, edgecolor=DARK))
    for pose, style in ((first, "-"), (last, "--")):
        corner = (pose.y_m + body.low_m[1], pose.z_m + body.low_m[2])
        size = body.high_m[1] - body.low_m[1], body.high_m[2] - body.low_m[2]
        axes.add_patch(Rectangle(corner, *size, facecolor="none", edgecolor=DARK, linestyle=style, linewidth=1.0))
    axes.axvline(site.live_lane_y_m, color=MIDDLE, linestyle=":", linewidth=1.0)
    deep = min(z for y, z in site.section_m if y >= low_y) if any(y >= low_y for y, _ in site.section_m) else 0.0
    top = unit.deck_height_m + 0.4
    _between(axes, site.edge_y_m, middle - floats.ravine_m - floats.pad_side_m / 2.0, top + 0.8, amounts)
    _between(axes, first.y_m, 0.0, top + 2.6, amounts)
    _between(axes, 0.0, site.live_lane_y_m, max(top + 0.8, 0.0 if waits is None else waits.loaded_m + 0.5), amounts)
    axes.annotate("", (site.edge_y_m - 0.2, 0.0), (site.edge_y_m - 0.2, deep), arrowprops={"arrowstyle": "<->"})
    axes.text(site.edge_y_m + 0.2, deep / 2.0, _length(-deep, amounts), fontsize=SMALL, ha="left", va="center")
    axes.set_xlim(low_y, high_y)
    axes.set_ylim(deep - 1.0, top + max(4.4, half_high))
    axes.set_aspect("equal")
    axes.axis("off")


def _between(axes: Axes, from_y: float, to_y: float, z: float, amounts: Amounts) -> None:
    """A level distance with its length over it."""
    axes.annotate("", (from_y, z), (to_y, z), arrowprops={"arrowstyle": "<->", "linewidth": 0.7})
    for y in (from_y, to_y):
        axes.plot([y, y], [0.0, z + 0.2], color=MIDDLE, linewidth=0.4)
    words = _length(abs(to_y - from_y), amounts)
    axes.text((from_y + to_y) / 2.0, z + 0.25, words, fontsize=SMALL, ha="center", va="bottom", bbox=BARE)


def _second(
    sheet: Sheet, check: SetupCheck, amounts: Amounts, assumed: Sequence[str], before: OutOfReach | None
) -> None:
    """What governs, what is missing, what is assumed, the words for a stop and for handing over."""
    sheet.write(STOP_WORDS, size=SIZE, bold=True)
    sheet.write(HAND_OVER if check.exit_plan is None else HAND_OVER_LOADED, size=SIZE)
    for words in [] if check.exit_plan is None else exit_sentences(check.exit_plan, amounts):
        sheet.write(words[:1].upper() + words[1:], size=SMALL, gap_mm=0.2)
    sheet.rule()
    sheet.write("What governs", size=SIZE, bold=True, gap_mm=0.3)
    worst = sorted(check.findings, key=lambda one: (-ORDER[one.level], one.reading.margin))[:MOST_TOLD]
    for one in worst:
        mark = "" if one.level == "good" else f"{one.level.upper()}: "
        sheet.write(mark + sentence(one, amounts), size=SMALL, gap_mm=0.2)
    for missing in check.not_judged:
        sheet.write(f"NOT JUDGED: {missing_words(missing)}", size=SMALL, gap_mm=0.2)
    for line in drag_lines(before, amounts, unit_names(check)):
        sheet.write(line.strip(), size=SMALL, gap_mm=0.2)
    sheet.rule()
    sheet.write("Assumed, by nobody measured here", size=SIZE, bold=True, gap_mm=0.3)
    for words in check.assumptions:
        sheet.write(amounts.told(words), size=SMALL, gap_mm=0.2)
    told = list(assumed[:MOST_ASSUMED])
    more = len(assumed) - len(told)
    if told:
        sheet.write("; ".join(told) + (f"; and {more} more, in the file" if more > 0 else ""), size=SMALL, gap_mm=0.3)
    sheet.write("Every key that the file leaves out has the program's own number (slopepick keys).", size=SMALL)


def _signatures(sheet: Sheet, check: SetupCheck) -> None:
    """Lines to write on, at the foot."""
    operators = [f"{name.capitalize()} unit operator" for name in unit_names(check)]
    signers = (FIRST_SIGNER, *operators, *LAST_SIGNERS)
    sheet.y_mm = max(sheet.y_mm + 2.0, sheet.height_mm - 34.0 - 11.0 * len(signers))
    sheet.write("Decided by: name, signature, date and time", size=SIZE, bold=True, gap_mm=4.0)
    for who in signers:
        sheet.put(who, MARGIN_MM, sheet.y_mm, size=SIZE)
        line = sheet.axes(MARGIN_MM + 66.0, sheet.y_mm + 3.6, sheet.inside_mm - 66.0, 0.5)
        line.axis("off")
        line.axhline(0.5, color=DARK, linewidth=0.6)
        sheet.y_mm += 10.0
