"""Table of the checks that ask what a photo's pixels tell."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from proofgen.geometry import Rect
from proofgen.model import (
    Frame,
    PhotoMeasures,
    Placed,
    Sharpness,
    Swings,
    Tones,
    Traces,
    key_of,
)
from tests.checks.case import NOT_NEEDED, PASS, Case
from tests.checks.cases_photo import scaled
from tests.checks.factory import facts, given, layout, photo

# A sharp photo of middling light, without a trace of anything.
SHARP = Sharpness(
    width_px=2800,
    span=0.8,
    inner_span=0.7,
    edge_px=0.4,
    line_px=0.4,
    inner_px=0.4,
    across_px=0.4,
    down_px=0.5,
    diagonal_px=0.6,
)
# What a rule's swings are at 1/8, 1/4, 3/8 and 1/2 cycles per px.
EIGHTHS = ("eighth", "quarter", "three_eighths", "half")
STILL = Swings(
    line=0.004, over=1.5, many=5, comb=0.8, eighth=0.02, quarter=0.03, three_eighths=0.02, half=0.03
)
LIGHT = Tones(lightness=(3.0, 10.0, 30.0, 50.0, 70.0, 90.0, 98.0))
GOOD = PhotoMeasures(
    sharpness=SHARP, traces=Traces(swings=STILL, fine=0.05), tones=LIGHT, frame=Frame()
)


def seen(placed: Placed | None = None, **parts: Any):
    """An order whose one photo, 237 × 100 mm, has these measures."""
    placed = placed or photo()
    key = key_of(placed, 300.0)
    assert key is not None
    return replace(given(layout(placed)), measures={key: replace(GOOD, **parts)})


INSIDE = photo(Rect(20.0, 10.0, 180.0, 80.0))


def edges(edge: float | None, across: float | None = 1.0, down: float | None = 1.0, **more: Any):
    sharp = replace(SHARP, edge_px=edge, across_px=across, down_px=down, **more)
    return seen(sharpness=sharp)


def no_edge(**more: Any):
    """No edge is clear."""
    none = dict.fromkeys(("line_px", "inner_px", "diagonal_px"))
    return edges(None, None, None, **none | more)


SOFT, PART = (("note", "soft-throughout"),), (("note", "soft-part"),)


def alike(*falls: float, **more: Any):
    """Soft, its detail falling so from octave to octave; a number at the end: its finest one."""
    finest = falls[3] if len(falls) > 3 else 0.004
    left = more.pop("traces", GOOD.traces)
    soft = replace(SHARP, edge_px=2.5, falls=falls[:3], finest=finest, **more)
    return seen(sharpness=soft, traces=left)


def leant(level: float, slanting: float, **more: Any):
    """Sharp, its fine detail weaker along one way."""
    return edges(0.4, leans=(level, slanting), **more)


def light(low: float, dark: float, middle: float, pale: float, high: float):
    span = (low, dark, (dark + middle) / 2, middle, (middle + pale) / 2, pale, high)
    return seen(tones=Tones(lightness=span))


def traces(
    eighths: tuple[float, ...] = (0.02, 0.03, 0.02, 0.03),
    *,
    repeats: float = 0.0,
    fine: float = 0.05,
    others: dict[str, Any] | None = None,
    **changes: Any,
) -> Traces:
    """Traces of a good photo but for these."""
    grid = dict(zip(EIGHTHS, eighths, strict=True))
    swings = replace(STILL, **grid, **changes)
    return Traces(swings=swings, repeats=repeats, fine=fine, **(others or {}))


def old(grid: float, upper: float = 9.0) -> Traces:
    """The grid of an older JPEG, made larger."""
    return traces(others={"grid": grid, "upper": upper})


def hollow(
    upper: float, middle: float, eighths: tuple[float, ...] = (0.02, 0.03, 0.02, 0.03)
) -> Traces:
    """Little detail above half and above a quarter of the finest."""
    return traces(eighths, others={"upper": upper, "middle": middle})


def bare(finest: float, middle: float = 1.0, grid: float = 0.0) -> Traces:
    """Few of JPEG's squares with any fine wave, and so much of the octave below."""
    return traces(others={"finest": finest, "middle": middle, "grid": grid})


def full(upper: float, middle: float, high: float) -> Traces:
    """A line off JPEG's grid, and so much detail."""
    return traces(line=high, over=12.0, many=1, others={"upper": upper, "middle": middle})


# Of what was made larger the finest detail has fallen off; made smaller, it is as full as ever.
FALLEN, FULL = {"upper": 1.0, "middle": 2.3}, {"upper": 1.5, "middle": 2.59}
RESIZED, SMALLER = (("warn", "resized"),), (("note", "made-smaller"),)
SMALL = Traces(swings=Swings(), fine=0.05)  # of fewer than four tiles
# The factory's photos are JPEGs; these keep every pixel.
PNG = photo(photo=facts(format="PNG"))
FINE = photo(photo=facts(jpeg_tables={0: scaled(96)}))
SQUEEZED = photo(photo=facts(jpeg_tables={0: scaled(59)}))
# Strong steps for coarse waves alone: of quality 60 and more by all of them, of 38 by the coarse.
FOREIGN = photo(photo=facts(jpeg_tables={0: 4 * (*4 * (18,), *4 * (8,)) + 32 * (8,)}))
FAINT = traces((0.02, 0.03, 0.04, 0.1), over=5.2, others={"upper": 1.49})
HEIC, WEBP = (photo(photo=facts(format=kind)) for kind in ("HEIF", "WEBP"))
ZOOMED, STRAIGHT = (photo(photo=facts(zoom=zoom)) for zoom in (1.8, 1.0))

BLUR = [
    Case("photo/blur", label, given_, wants)
    for label, given_, wants in [
        ("sharp", seen(), (PASS,)),
        ("a patch of one colour", no_edge(span=0.031), (PASS,)),
        ("hardly anything to see", no_edge(span=0.032), (("stop", "beyond-use"),)),
        ("no edge at all", no_edge(), (("stop", "beyond-use"),)),
        ("none but thin lines", no_edge(line_px=0.2), (("note", "no-edge"),)),
        ("nor under grain", no_edge(noise=0.01, noise_kept=0.6), (("warn", "under-grain"),)),
        ("fine as sand", no_edge(noise=0.005, noise_kept=0.81), (("note", "under-grain"),)),
        ("a hair coarser", no_edge(noise=0.005, noise_kept=0.8), (("warn", "under-grain"),)),
        ("a hair weaker", no_edge(noise=0.0049, noise_kept=0.9), (("warn", "under-grain"),)),
        ("a hair under the soft limit", edges(0.999), (PASS,)),
        ("at the soft limit", edges(1.0), (("note", "soft"),)),
        ("a hair under the limit", edges(1.399), (("note", "soft"),)),
        ("at the limit", edges(1.4), (("warn", "blurred"),)),
        ("with fine lines at theirs", edges(1.4, line_px=0.3), (("warn", "blurred"),)),
        ("with lines a hair finer", edges(1.4, line_px=0.299), (("note", "soft"),)),
        ("so wide that nothing is left", edges(6.0), (("stop", "beyond-use"),)),
        ("a hair less", edges(5.999), (("warn", "blurred"),)),
        ("the same of edges one way", edges(6.0, down=None), (("stop", "beyond-use"),)),
        ("the same under grain", edges(6.0, noise=0.002), (("warn", "under-grain"),)),
        ("in doubt by its grain", edges(2.09, noise=0.01), (("note", "under-grain"),)),
        ("beyond that doubt", edges(2.1, noise=0.01), (("warn", "under-grain"),)),
        ("only upright edges", edges(2.5, down=None, noise_kept=0.7), (("note", "one-way"),)),
        ("only level edges", edges(2.5, across=None), (("note", "one-way"),)),
        ("nothing finer", edges(2.5, down=None, noise_kept=0.71), (("warn", "blurred"),)),
        ("under grain", edges(2.5, down=None, noise=0.002), (("warn", "under-grain"),)),
        ("sharp elsewhere", edges(2.5, around_px=1.399), (("note", "soft-part"),)),
        ("not sharp elsewhere", edges(2.5, around_px=1.4), (("warn", "blurred"),)),
        ("clouds", alike(1.8, 1.8, 1.7), (("note", "soft-throughout"),)),
        ("a board without an edge", no_edge(finest=0.004, falls=(-0.1, -0.3, -0.9)), SOFT),
        ("a board with a little more broad", alike(0.1, -0.3, -0.9), (("warn", "blurred"),)),
        ("a hair less alike", alike(1.8, 1.8, 1.349), (("warn", "blurred"),)),
        ("as alike", alike(1.8, 1.8, 1.36), SOFT),
        ("a blur that leaves the broadest", alike(1.8, 1.2, 1.6), (("warn", "blurred"),)),
        ("a hair too steep", alike(2.4, 2.4, 2.3), (("warn", "blurred"),)),
        ("hardly so steep", alike(2.39, 2.39, 2.3), SOFT),
        ("steeper farther on, as noise over a blur", alike(1.2, 1.3, 1.2), (("warn", "blurred"),)),
        ("hardly steeper", alike(1.21, 1.3, 1.2), SOFT),
        ("level as noise", alike(-0.5, -0.8, -1.0), (("warn", "blurred"),)),
        ("a hair less level", alike(-0.49, -0.8, -1.0), SOFT),
        ("its finest octave empty", alike(1.8, 1.8, 1.7, 0.00117), (("warn", "blurred"),)),
        ("hardly filled", alike(1.8, 1.8, 1.7, 0.00118), SOFT),
        ("under grain", alike(1.8, 1.8, 1.7, noise=0.002), (("warn", "under-grain"),)),
        ("clouds beside sharp hills", alike(1.8, 1.8, 1.7, around_px=0.3), PART),
        ("a part without edges", no_edge(around_px=0.3), (("warn", "soft-part"),)),
        ("with very broad ones", edges(6.0, around_px=0.3), (("warn", "soft-part"),)),
        ("a hair less broad", edges(5.999, around_px=0.3), (("note", "soft-part"),)),
        ("sharp along its sides alone", edges(0.4, inner_px=1.4), (("note", "beside"),)),
        ("nearly sharp farther in", edges(0.4, inner_px=1.39), (PASS,)),
        ("nothing farther in", edges(0.4, inner_px=None), (("note", "beside"),)),
        ("even farther in", edges(0.4, inner_px=None, inner_span=0.117), (PASS,)),
        ("weaker along rows", leant(-2.4, 0.0), (("note", "moved"),)),
        ("waves", leant(2.39, 0.0), (PASS,)),
        ("weaker along one slanting way", leant(0.0, 0.7), (("note", "moved"),)),
        ("hardly weaker", leant(0.0, -0.69), (PASS,)),
        ("broad edges tell it", edges(0.4, 1.4, leans=(0.0, -2.0)), (("note", "shaken"),)),
        ("clouds that moved", alike(1.8, 1.8, 1.7, leans=(0.0, 0.7)), (("warn", "blurred"),)),
        ("broad upright edges", edges(0.4, 1.4), (("note", "shaken"),)),
        ("no level edges", edges(0.4, down=None), (("note", "shaken"),)),
        ("no slanting edges", edges(0.4, diagonal_px=None), (("note", "shaken"),)),
        ("broad slanting edges", edges(0.4, diagonal_px=2.4), (("note", "shaken"),)),
        ("a hair less broad", edges(0.4, 0.8, 0.8, diagonal_px=2.39), (PASS,)),
        ("all ways a little broad", edges(0.4, 1.2, 1.2, diagonal_px=1.2), (("note", "soft"),)),
        ("a hair less broad", edges(0.4, 1.2, 1.2, diagonal_px=1.196), (PASS,)),
    ]
] + [
    Case(
        "photo/blur",
        "the sentence",
        edges(3.0),
        (("warn", "blurred"),),
        (
            "at 237 × 100 mm even its sharpest edges are 0.7 mm wide.",
            "or for the original if this one was passed on.",  # no smaller: it covers the wrap
        ),
    ),
    Case(
        "photo/blur",
        "beside bare cloth",
        seen(INSIDE, sharpness=replace(SHARP, edge_px=3.0)),
        (("warn", "blurred"),),
        ("or print it at most 110 mm wide.",),
    ),
    Case(
        "photo/blur",
        "so wide that no size helps",
        seen(INSIDE, sharpness=replace(SHARP, edge_px=40.0)),
        (("stop", "beyond-use"),),
        ("or for the original if this one was passed on.",),
    ),
]


def line(height: float, over: float, *, half: float = 0.03, **more: Any):
    """A swing off JPEG's grid."""
    return traces((0.02, 0.03, 0.02, half), line=height, over=over, **{"many": 3} | more)


ENLARGED = (
    [
        Case("photo/enlarged", label, seen(placed, traces=left), wants)
        for label, placed, left, wants in [
            ("untouched", PNG, traces(), (PASS,)),
            # What JPEG's own grid makes of an untouched photo of quality 75.
            ("a JPEG", PNG, traces((0.1, 0.2, 0.12, 0.1)), (PASS,)),
            ("not all pixels seen", PNG, None, (PASS,)),
            ("off the grid, strong", PNG, line(0.1, 12.0, others=FALLEN), (("warn", "enlarged"),)),
            (
                "with a comb",
                PNG,
                line(0.025, 7.0, comb=2.2, others=FALLEN),
                (("warn", "enlarged"),),
            ),
            ("off the grid, or smaller", PNG, line(0.025, 9.0, others=FALLEN), RESIZED),
            ("off the grid, full of detail", PNG, line(0.025, 9.0, others=FULL), SMALLER),
            (
                "a shade less",
                PNG,
                line(0.025, 9.0, others={"upper": 1.499, "middle": 2.0}),
                RESIZED,
            ),
            ("strong, and full of detail", PNG, line(0.19, 12.0, others=FULL), SMALLER),
            ("stronger than that", PNG, line(0.2, 12.0, others=FULL), (("warn", "enlarged"),)),
            ("off the grid, too low", PNG, line(0.0249, 9.0, half=0.001), (PASS,)),
            ("faint, under a strong compression", SQUEEZED, FAINT, (PASS,)),
            (
                "faint, nothing over it",
                PNG,
                FAINT,
                (PASS,),
            ),
            ("many lines: blocks", PNG, line(0.5, 30.0, many=4), (PASS,)),
            ("an old grid, sure", PNG, old(2.8), (("warn", "enlarged"),)),
            ("a hair under it", PNG, old(2.799), (PASS,)),
            ("high, and hollow", PNG, old(2.1, 0.999), (("warn", "enlarged"),)),
            ("high, and hardly hollow", PNG, old(2.1, 1.0), (PASS,)),
            ("hollow, and not as high", PNG, old(2.099, 0.999), (PASS,)),
            ("sure, and compressed again", photo(), old(2.8), (("note", "zoomed"),)),
            ("compressed again", photo(), old(2.799), (("note", "perhaps-enlarged"),)),
            ("at its least", photo(), old(1.8), (("note", "perhaps-enlarged"),)),
            ("a hair under its least", photo(), old(1.799), (PASS,)),
            ("the squares of HEIC", HEIC, old(2.9), (PASS,)),
            ("the squares of WebP", WEBP, old(2.9), (PASS,)),
            ("a sensor's way of mixing", HEIC, traces((0.001, 0.01, 0.001, 0.2)), (PASS,)),
            ("hollow", photo(), hollow(0.3, 0.999), (("note", "perhaps-enlarged"),)),
            ("hardly hollow", photo(), hollow(0.3, 1.0), (PASS,)),
            ("hollow, and too small to tell", photo(), replace(SMALL, middle=0.5), (PASS,)),
            ("nothing fine at all", photo(), bare(0.0004), (("note", "perhaps-enlarged"),)),
            ("hardly anything fine", photo(), bare(0.0005), (PASS,)),
            ("with some an octave below", photo(), bare(0.0004, 1.8), (PASS,)),
            ("hardly any there", photo(), bare(0.0004, 1.79), (("note", "perhaps-enlarged"),)),
            ("and an older grid", photo(), bare(0.0004, 3.0, 0.4), (("note", "perhaps-enlarged"),)),
            ("and hardly one", photo(), bare(0.0004, 3.0, 0.39), (PASS,)),
            ("nothing fine, and too small to tell", photo(), replace(SMALL, finest=0.0), (PASS,)),
            ("nothing fine, kept whole", PNG, bare(0.0), (PASS,)),
            ("nothing fine, as WebP has it", WEBP, bare(0.0), (PASS,)),
            ("hollow, finely saved", FINE, hollow(1.09, 2.3), (("note", "perhaps-enlarged"),)),
            ("hardly hollow, finely saved", FINE, hollow(1.1, 2.4), (PASS,)),
            ("soft all through, finely saved", FINE, hollow(1.09, 2.28), (PASS,)),
            ("hollow as strong compressions are", photo(), hollow(1.09, 2.3), (PASS,)),
            # Pictures that web sites made smaller swing as well, and are full of detail.
            ("off the grid, compressed, full", photo(), full(1.5, 2.59, 0.1), (PASS,)),
            ("a shade less", photo(), full(1.499, 2.0, 0.1), (("note", "zoomed"),)),
            ("falling off", photo(), full(2.3, 3.4, 0.1), (("note", "zoomed"),)),
            ("strongly, however full", photo(), full(3.0, 3.5, 0.2), (("note", "zoomed"),)),
            ("faint, and full", photo(), replace(FAINT, upper=1.5, middle=2.5), (PASS,)),
            ("hollow, kept whole", PNG, hollow(0.3, 0.5), (PASS,)),
            ("under a strong compression", SQUEEZED, hollow(0.3, 0.5), (PASS,)),
            (
                "hollow and a little of twice",
                PNG,
                hollow(0.69, 2.0, (0.003, 0.01, 0.003, 0.03)),
                (("warn", "enlarged"),),
            ),
            ("not as hollow", PNG, hollow(0.7, 2.0, (0.003, 0.01, 0.003, 0.03)), (PASS,)),
            (
                "and of four times",
                PNG,
                hollow(0.3, 0.999, (0.001, 0.01, 0.001, 0.01)),
                (("warn", "enlarged"),),
            ),
            ("and not as hollow", PNG, hollow(0.3, 1.15, (0.001, 0.01, 0.001, 0.01)), (PASS,)),
            (
                "three eighths",
                PNG,
                traces((0.008, 0.016, 0.05, 0.01), others=FALLEN),
                (("warn", "enlarged"),),
            ),
            (
                "repeated lines",
                PNG,
                traces((0.0, 0.0, 0.0, 0.2), repeats=0.2),
                (("warn", "repeated"),),
            ),
        ]
    ]
    + [
        Case("photo/enlarged", "clouds, hollow and with nothing fine", given_, wants)
        for given_, wants in [
            (alike(1.8, 1.8, 1.7, traces=hollow(0.3, 0.9)), (PASS,)),
            (alike(1.8, 1.8, 1.7, traces=bare(0.0)), (PASS,)),
            (alike(3.4, 2.9, 1.7, traces=bare(0.0)), (("note", "perhaps-enlarged"),)),
        ]
    ]
    + [
        Case("photo/enlarged", label, seen(placed, traces=left), wants, says)
        for label, placed, left, wants, says in [
            (
                "twice",
                PNG,
                traces((0.001, 0.01, 0.001, 0.075)),
                (("warn", "enlarged"),),
                ("made larger, about twice, before it came to us",),
            ),
            (
                "twice, then compressed",
                photo(),
                traces((0.001, 0.01, 0.001, 0.075)),
                (("note", "zoomed"),),
                ("the camera’s own zoom",),
            ),
            (
                "twice, by a camera that did not zoom",
                STRAIGHT,
                traces((0.001, 0.01, 0.001, 0.075)),
                (("note", "made-larger"),),
                ("made larger before it was saved, not by the camera’s zoom.",),
            ),
            (
                "zoomed by the camera, and nothing to be seen of it",
                ZOOMED,
                traces(),
                (("note", "digital-zoom"),),
                ("The camera zoomed by enlarging, 1.8 times", "no more detail than one of"),
            ),
            (
                "zoomed by the camera, and seen",
                ZOOMED,
                traces((0.001, 0.01, 0.001, 0.075)),
                (("note", "digital-zoom"),),
                (),
            ),
            (
                "zoomed, enlarged, and kept whole",
                photo(photo=facts(format="PNG", zoom=1.8)),
                traces((0.001, 0.01, 0.001, 0.075)),
                (("warn", "enlarged"),),
                (),
            ),
            ("a camera that did not zoom", STRAIGHT, traces(), (PASS,), ()),
            (
                "four times",
                PNG,
                traces(
                    (0.001, 0.02, 0.001, 0.01), fine=0.001, others={"middle": 0.99, "upper": 0.4}
                ),
                (("warn", "enlarged"),),
                ("about four times",),
            ),
            (
                "four times or a third",
                PNG,
                traces((0.001, 0.035, 0.001, 0.01)),
                (("warn", "enlarged"),),
                ("made larger before it came",),
            ),
            (
                "faint",
                photo(),
                FAINT,
                (("note", "perhaps-enlarged"),),
                ("the traces are faint.",),
            ),
            (
                "lines repeated by half",
                PNG,
                traces(repeats=1 / 3, line=0.5),
                (("warn", "repeated"),),
                ("one and a half times",),
            ),
            (
                "lines repeated by two fifths",
                PNG,
                traces(repeats=2 / 7, line=0.5),
                (("warn", "repeated"),),
                ("about 1.4 times",),
            ),
        ]
    ]
)


def before(quality: int | None, placed: Placed | None = None):
    return seen(placed, traces=traces(others={"before": quality}))


BEFORE = [
    Case("photo/compressed-before", label, given_, wants)
    for label, given_, wants in [
        ("no steps", before(None), (PASS,)),
        ("its own steps", before(60), (PASS,)),
        ("as low as they may be misread", before(55), (PASS,)),
        ("lower", before(54), (("note", "rather-squeezed"),)),
        ("far lower", before(39), (("warn", "squeezed"),)),
        ("not as far", before(40), (("note", "rather-squeezed"),)),
        ("by its own tables", before(39, FOREIGN), (PASS,)),
        ("lower than its own tables", before(30, FOREIGN), (("warn", "squeezed"),)),
        ("lower, kept whole", before(25, PNG), (("warn", "squeezed"),)),
        ("its file tells it", before(25, SQUEEZED), (PASS,)),
        ("not all pixels seen", seen(traces=None), (PASS,)),
    ]
] + [
    Case(
        "photo/compressed-before",
        "the sentence",
        before(25),
        (("warn", "squeezed"),),
        ("squeezed hard before it was last saved", "Ask for the original"),
    ),
]


def flat(noise: float, span: float = 0.1):
    """Hardly any light and dark, and so much texture."""
    tones = Tones(lightness=(50.0, 51.0, 52.0, 55.0, 57.0, 59.0, 60.0))
    return seen(tones=tones, sharpness=replace(SHARP, noise=noise, span=span))


EXPOSURE = [
    Case("photo/exposure", label, given_, wants)
    for label, given_, wants in [
        ("well lit", seen(), (PASS,)),
        ("its lightest nearly black", light(0, 1, 2, 8, 11.9), (("stop", "nearly-black"),)),
        ("a hair lighter", light(0, 1, 2, 8, 12), (("warn", "too-dark"),)),
        ("its lightest at the limit", light(0, 2, 8, 20, 24), (("note", "dark"),)),
        ("under it", light(0, 2, 8, 20, 23.9), (("warn", "too-dark"),)),
        ("at the dark limit", light(0, 2, 12, 44, 60), (PASS,)),
        ("under it", light(0, 2, 11.9, 44, 60), (("note", "dark"),)),
        ("a night with lights", light(0, 2, 8, 45, 90), (PASS,)),
        ("under a layer of shade", light(1, 2, 35, 49, 52.9), (("note", "dim"),)),
        ("a little lighter", light(1, 2, 35, 49, 53), (PASS,)),
        ("its darkest at the limit", light(85, 87, 92, 99, 100), (("note", "pale"),)),
        ("over it", light(85.1, 87, 92, 99, 100), (("warn", "too-pale"),)),
        ("at the pale limit", light(50, 61, 88, 95, 100), (PASS,)),
        ("over it", light(50, 61, 88.1, 95, 100), (("note", "pale"),)),
        ("snow with something dark", light(10, 60, 95, 99, 100), (PASS,)),
        ("at the flat limit", light(40, 45, 50, 52, 55), (("note", "dull"),)),
        ("under the flat limit", light(40, 45, 50, 52, 54.9), (("warn", "flat"),)),
        ("at the dull limit", light(40, 45, 50, 60, 70), (PASS,)),
        ("under the dull limit", light(40, 45, 50, 60, 69.9), (("note", "dull"),)),
        ("a plain board", flat(0.00121), (("note", "plain-surface"),)),
        ("hardly any texture", flat(0.00119), (("warn", "flat"),)),
        ("of one colour", flat(0.0, 0.0), (("warn", "flat"),)),
        ("at the bare limit", seen(tones=replace(LIGHT, bright=0.25)), (PASS,)),
        ("over the bare limit", seen(tones=replace(LIGHT, bright=0.251)), (("note", "bare"),)),
        ("over the black limit", seen(tones=replace(LIGHT, dark=0.3)), (("note", "black"),)),
    ]
]


def _screen(width: int, height: int, **changes: Any):
    picture = facts(width, height, **{"format": "PNG", **changes})
    return seen(placed=photo(photo=picture))


SCREENSHOT = [
    Case("photo/screenshot", label, given_, wants, says)
    for label, given_, wants, says in [
        ("a photo", seen(), (PASS,), ()),
        (
            "a status line",
            seen(frame=Frame(status_line=True)),
            (("warn", "screenshot"),),
            ("small signs",),
        ),
        (
            "bars that would be printed",
            seen(frame=Frame(bars=(0.0, 0.2, 0.0, 0.2), bars_shown=True)),
            (("warn", "bars"),),
            ("even bars at top and bottom", "Or cut the bars off."),
        ),
        (
            "bars outside the print",
            seen(frame=Frame(bars=(0.1, 0.0, 0.1, 0.0))),
            (("note", "bars-cut"),),
            ("even bars at left and right",),
        ),
        (
            "taken of a screen",
            seen(frame=Frame(screen=0.5)),
            (("note", "of-a-screen"),),
            ("a fine even grid lies all over it",),
        ),
        ("of what repeats", seen(frame=Frame(screen=0.38)), (PASS,), ()),
        (
            "a phone's screen",
            _screen(1170, 2532),
            (("note", "screen-size"),),
            ("(1170 × 2532 pixels)",),
        ),
        ("lying on its side", _screen(2532, 1170), (("note", "screen-size"),), ()),
        ("as wide, not as long", _screen(1170, 1560), (PASS,), ()),
        ("from a camera", _screen(1080, 1920, private=("camera",)), (PASS,), ()),
        ("a JPEG of that size", _screen(1080, 1920, format="JPEG"), (PASS,), ()),
    ]
]


def grain(noise: float, kept: float):
    return seen(sharpness=replace(SHARP, noise=noise, noise_kept=kept))


def rims(share: float):
    return seen(sharpness=replace(SHARP, halos=share))


def smooth(share: float | None):
    return seen(sharpness=replace(SHARP, smoothed=share))


def coloured(blotches: float, over: float):
    return seen(tones=replace(LIGHT, blotches=(blotches, over)))


def tinted(mean: tuple[float, float], strays: float, **more: tuple[float, float]):
    return seen(tones=replace(LIGHT, tint=mean, strays=strays, **more))


def two_tints(strength: float, strays: float = 8.0, dark: tuple[float, float] = (0.0, -1.0)):
    """Yellow lights, and darks of another tint."""
    a, b = dark
    ends = {"light_tint": (0.0, strength), "dark_tint": (a * strength, b * strength)}
    return tinted((0.0, 0.0), strays, **ends)


def lined(*lines: float, **more: Any):
    return seen(frame=Frame(lines=lines, **more))


OLD_PRINT = [
    Case("photo/old-print", label, given_, wants, says)
    for label, given_, wants, says in [
        ("a photo", seen(), (PASS,), ()),
        ("grain", grain(0.0025, 0.68), (("note", "grainy"),), ("Grain lies over",)),
        ("strong grain of film", grain(0.005, 0.75), (("note", "grainy"),), ()),
        ("a little weaker", grain(0.0049, 0.75), (PASS,), ()),
        ("hardly any", grain(0.0024, 0.5), (PASS,), ()),
        ("stones, grass", grain(0.01, 0.76), (PASS,), ()),
        ("too small to tell", grain(0.01, 0.0), (PASS,), ()),
        ("rims along edges", rims(0.12), (("note", "haloed"),), ("Bright and dark rims",)),
        ("a camera's own", rims(0.119), (PASS,), ()),
        ("smoothed", smooth(1.35), (("note", "smeared"),), ("texture beside them is gone",)),
        ("hardly", smooth(1.349), (PASS,), ()),
        ("nothing to tell by", smooth(None), (PASS,), ()),
        ("blotches", coloured(1.8, 1.6), (("note", "blotchy"),), ("Blotches of colour",)),
        ("weaker ones", coloured(1.79, 9.0), (PASS,), ()),
        ("coloured sand", coloured(6.2, 1.59), (PASS,), ()),
        ("yellowed", tinted((3.0, 4.0), 3.5), (("note", "toned"),), ("One warm tint",)),
        ("hardly", tinted((2.99, 4.0), 1.0), (PASS,), ()),
        ("with colours in it", tinted((3.0, 4.0), 3.6), (PASS,), ()),
        ("orange paper", tinted((18.0, 24.0), 1.0), (PASS,), ()),
        ("blue as an evening", tinted((0.0, -9.0), 1.0), (PASS,), ()),
        ("green as a wood", tinted((-6.0, 9.0), 1.0), (PASS,), ()),
        ("a filter", two_tints(20.0), (("note", "filtered"),), ("contrary one",)),
        ("weaker", two_tints(19.9), (PASS,), ()),
        ("an evening, many colours", two_tints(40.0, 9.0), (PASS,), ()),
        ("tints beside each other", two_tints(40.0, dark=(1.0, 0.0)), (PASS,), ()),
        (
            "a line",
            lined(0.0, 0.0, 0.01, 0.01),
            (("note", "edge-line"),),
            ("at right and bottom",),
        ),
        (
            "a card on a table",
            seen(frame=Frame(card=0.77)),
            (("note", "around-print"),),
            ("near all its sides",),
        ),
        ("a window", seen(frame=Frame(card=0.769)), (PASS,), ()),
        ("a line in it", lined(0.01, 0.0, 0.0, 0.0, card=0.9), (("note", "around-print"),), ()),
        ("bars around it", seen(frame=Frame(card=1.0, bars=(0.1, 0, 0.1, 0))), (PASS,), ()),
        ("bars tell it", lined(0.01, 0.0, 0.0, 0.0, bars=(0.1, 0.0, 0.1, 0.0)), (PASS,), ()),
    ]
]

# Every one of them says so when nobody looked, and nothing of a photo that cannot be opened.
UNSEEN = [
    Case(name, label, given_, wants)
    for name in (
        "photo/blur",
        "photo/compressed-before",
        "photo/enlarged",
        "photo/exposure",
        "photo/old-print",
        "photo/screenshot",
    )
    for label, given_, wants in [
        ("nobody looked", given(layout(photo())), (("skipped", "not-looked-at"),)),
        (
            "a photo nobody can open",
            given(layout(photo(photo=facts(problem="it is empty", problem_code="empty")))),
            (NOT_NEEDED,),
        ),
        ("no photo", given(layout()), (NOT_NEEDED,)),
    ]
]

CASES = [*BLUR, *ENLARGED, *BEFORE, *EXPOSURE, *SCREENSHOT, *OLD_PRINT, *UNSEEN]
