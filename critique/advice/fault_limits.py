"""From where on a measure of touch, masses, colour or composition is a fault, and how grave."""

from collections.abc import Callable
from typing import Literal

from critique.advice.finding import LEVELS, Level
from critique.advice.kind import Limits
from critique.measures.bare_sky import BareSky
from critique.measures.closed_darks import ClosedDarks
from critique.measures.detail import Detail
from critique.measures.edges import Edges
from critique.measures.even_foreground import EvenForeground
from critique.measures.lone_colour import STANDS_ALONE
from critique.measures.loudest import HEARD, RAW_SPOT, Loudest
from critique.measures.masses import Masses
from critique.measures.outlines import Outlines
from critique.measures.ruled import Ruled
from critique.measures.symmetry import Symmetry
from critique.measures.water_level import WaterLevel

ByLimits = Callable[[float], Level]  # of a figure alone: the kind's own limits, or those of whoever judges

# Every limit lies beyond what 43 untouched pictures (38 of them paintings) have, but for at most one in twelve, and below what
# `tests/benchmarks/faults.py` draws as a plain fault.
# Of the variance of L*: with less left after the blur there are no masses at all (one painting in separate strokes keeps 0.41,
# and its readers saw five plain shapes). L* between mark and mass: a pond under a bridge has 6.9, and its readers saw both.
KEPT_TILES, SCRAPS_TILES = 0.36, 7.2
TILES_EVERYWHERE = 3.5  # L* in the quietest tenth of places: with less a dark coat or a ground holds, the rest spotted
KEPT_SCATTERED, SCRAPS_WATCH = 0.60, 9.3  # of the variance, and L* between mark and mass; highest seen 9.1
SCRAPS_QUIETEST = 2.5  # L* in the quietest tenth of places: with less it has large quiet shapes, and readers see them
KEPT_REWORK, SCRAPS_REWORK = 0.42, 13.0
# Spread of a*b* of the big shapes: with more they are told apart by colour, and readers see roofs, sky and field however
# broken their values are. Of nine pictures with many scraps the four that two readers found broken have 7.2 at most, the
# five in which they saw the shapes all the same 11.7 at least.
TOLD_BY_COLOUR = 9.0
# Of the variance, and L* in the quietest tenth of places; highest seen 4.7.
KEPT_EVERYWHERE, SCRAPS_EVERYWHERE = 0.8, 5.3
# L* in the quietest tenth of places, times what the masses keep: a picture of big shapes, gone over in blotches. Of 125
# paintings and 85 photographs none has more than 2.98; of those paintings with blotches of 0.7 values put in six in ten do.
PATCHY = 3.05
# Of detail in the quietest tenth, in L*, a* and b* together: of 220 pictures that readers noted the one with the same marks all
# over has 0.9, a pale slope under mist, and nobody saw a mark in it; marks put in have 2.7 at least.
QUIETEST_WATCH = 2.0
# How far all places have the same marks. Of those 220 the most is 0.084, a heath in bloom, and 0.108 photographed otherwise,
# of 76 paintings -0.07. Of 102 pictures that eight hands went over with one mark one has 0.13, the next 0.18, and 0.147 at
# least photographed otherwise.
SAME_MARKS = 0.14
# How broad the marks are: with more they are patches, and `judge_scattered` speaks of them. Of those 102 the most is 0.62, of
# pictures broken into patches as alike the least 0.87.
PATCHES = 0.75
EVEN_REWORK = 0.75  # of value, where the picture is one carpet; our choice
# Long edges of dark line between shapes; of 76 one has more, by drawing, the next 0.44.
OUTLINES = Limits("above", 0.6, 1.8)
# Long edges of rims along the flanks of things under the sky: of 76 landscapes the most is 0.08; of 160 pictures that
# readers judged three have 0.12 to 0.18 and had none to them (clouds, snow far off), one has 0.7 and had. Plain rims put
# into pictures have 0.17 and more in 15 of 21, two more have 0.12. Beyond the second nobody looks at anything else.
RIMS = Limits("above", 0.155, 0.25)
# Likeness of six neighbours in a row: of 76 landscapes the most is 0.47, of a photographed wood's even trunks 0.55; a fence
# that a reader saw as a grid has 0.61, trees planted in a row have 0.64 and more in 22 pictures of 23.
LIKE_ROW = Limits("above", 0.58)
# How far dark lines all run one way: those of waves, of furrows and of the rocks of a level shore do (0.98 where two readers
# saw no line drawn), those drawn round shapes have 0.86 at most.
ONE_WAY = 0.92
# Softness of the edges that are seen, and more by what melts among them and by what their crispest quarter takes more
# than 2 px for: strokes all over melt a little, and a chip of paint is no cut edge. Of 76 landscapes one with many edges has
# less, its storm and shores cut out to anyone; of 70 photographs passed through a paint filter one, black horses on a blue sky.
SOFT = Limits("below", 0.825, 0.70)
# Of the edges of masses: run straight and equally sharp. Of 76 landscapes the most is 0.116, of 130 photographs passed
# through a paint filter 0.122, of 30 others 0.132, and 0.182 in one, a crisp dark slope before a pale sea; where masses
# were cut out, and not outlined too, plain cases have 0.05 to 0.26, gross ones 0.09 to 0.51.
RULED = Limits("above", 0.135, 0.20)
MELTS, EASED = 0.25, 0.25  # how much the places that melt count, and the part of a step that isn't taken at once
# Of the step between masses, what their crispest tenth takes at once. Of 76 landscapes the least is 0.84, of 70 photographs
# passed through a paint filter 0.77 but for one that two readers each found out of focus all over, with 0.58; plainly
# softened ones have 0.63 at most. Below the second the step, its tenths at both ends aside, takes a hundredth of the long edge and more.
BLURRED = Limits("below", 0.66, 0.48)
# Of the picture, places with an edge that is seen: with fewer its broad quiet planes are what one sees, and a subject
# that stands out against them is as it should be, unless all is cut as with a knife. With very few nothing is said.
MANY_EDGES, SOME_EDGES, KNIFE = 0.30, 0.18, 0.78
CLOSED = Limits("above", 0.115, 0.22)  # of the picture; of 76 two have 0.14, the next 0.097
CLOSED_ONE = 0.045  # of the picture in one closed dark; highest seen 0.03
HOLE = 0.012  # of the picture, in one alone amid lighter things. Of 296 six have more: a blot, and five told already
# Of the picture, and of all that is dark in it: where so much of its darks is filled in, less of them is heavy. Of 76 one
# reaches both, and is over the first limit too; the next fullest, with more than a twentieth closed, has 0.35 of its darks.
SOME_CLOSED, FILLED_IN = 0.05, 0.45
# Of the picture, near black and without colour. Of 84 pictures that readers noted five have more, and the darks of all five
# were what they would mend; the next has 0.112. Of 76 paintings four have more, and readers would open the darks of the two
# that they noted.
BLACK = 0.118
# Of the picture, dark without form and weighed by its key; and of what is dark with little in it, without form. Of 139
# pictures that two readers each had judged 26 reach both: both readers would open the darks of 25, or perhaps, and would
# mend first that of the other, an empty black road. Of 76 paintings none does but one that is near black, too.
HEAVY, WITHOUT_FORM = 0.040, 0.38
# Of the picture, in one near-black mass without colour, where the picture isn't a dark one. Of 40 pictures that two readers
# each had judged four have more, and of their eight readings seven would open or lighten it. Of 76 paintings one has that
# isn't told already, black cypresses into which one of two readers would let a little colour; the next has 0.090.
ONE_BLACK = 0.10
# Of the picture, bare white sky. Of less readers were told in three pictures and denied each: bits of white, summer clouds.
BARE = Limits("above", 0.03)
# Of the sky: with less of it bare it is a bright cloud or a rim of light, and has its tone. Of skies left white by code the
# least has 0.48, of those that readers signed 0.175, of those that they denied 0.11.
BARE_OF_SKY = 0.15
# L* of the lights below it and of what isn't bare: with more the land is as light, or the picture is one in light tones, a
# mist, a paper or the blaze of a sun, in which a white sky is at home.
AS_LIGHT, LIGHT_PICTURE = 82.0, 62.0
DEAD = Limits("below", 12.0, 4.5)  # C* of the strongest tenth; lowest seen 16
SOME_COLOUR = 12.0  # C* of the same: one that reaches it is seen as a colour, though no relief
# C* of the strongest spot: one that reaches it is a relief. A flag of 15 was seen as one in a grey day, of the plain faults
# the most has 11.4; the lowest seen in a landscape 25.
DEAD_RELIEF = 13.5
# C* that the strongest tenth of a picture has at most, that its colours lie off one paint over lights and darks, and that its
# farthest spot does: of one drab there is colour, but nothing for it to be a colour against. Of 296 untouched pictures two
# have less, told already; the next are a fog over dark woods (4.7 and 8.8) and another (6.9 and 9.8).
DRAB, OFF_ONE_TONE, FARTHEST_OFF = 16.0, 4.4, 8.0
# Of the picture, and of the chroma that landscapes reach at most: a raw blue sky or a raw yellow field over so much of it is
# loud beside whatever greens there are, and what readers of six of eight such pictures would mend first.
FILLS, RAW = 0.3, 1.2
# Times that the strongest tenth lies off one paint over lights and darks, that the farthest spot does, from FARTHEST_OFF on: a
# rust on a shore (3.0) and a brown rock in snow (3.4) spoke to readers though all else was grey. Of greys that readers
# signed the most has 2.4, of 39 pictures whose colour was taken out 2.0.
SPEAKS = 2.7
LOUD = Limits("above", 1.0, 1.35)  # of the chroma that landscapes reach at most at that hue
# Times its chroma, that as much of the picture reaches in another hue: a night violet beside a yellow of 1.4 was not the loudest
# to its readers. As strong as that, the two answer each other, as a dune and its sky do.
OUTDONE, ANSWERED = 1.15, 0.95
# Of the place where the eye goes (so much of the sides about it), that is of that colour; and of the picture, at most: roofs
# that a picture is about may be its loudest.
OF_THE_PLACE, ABOUT_IT, A_THING = 0.25, 0.05, 0.1
# Times the chroma that landscapes reach at most: even what the picture is about shouts. Of 176 paintings and photographs passed
# through a brush the most is 1.84, a red boat that both its readers would mend; things made garish grossly have 1.75 to 3.
EVEN_A_THING = 2.0
LOUD_AT_EYE, SMALL = 0.15, 0.02  # an accent within so much of the focal place, and no larger, is where it should be
# Times the C* of its hue elsewhere, that what stands alone has: of 310 landscapes and pictures that readers judged the least
# has 1.87; bushes in the sun, more of them in the shade, had 1.46, and a reader denied that they were alone.
LOUDER = 1.7
# C* by which the strongest spot of any hue passes it: a night blue 10 below a moon's orange was not the loudest to its readers;
# of those that were none lay more than 5 below.
OUTSHONE = 9.0
# Of the picture, and of a loud colour, the part that lies in the border: it leads the eye out. Of 196 pictures one has such a
# spot, red leaves that both its readers would take out first; a strip of grass of 0.055 and a sky of 0.038 have more.
A_SPOT, AT_THE_RIM = 0.03, 0.9
# Of the picture, and times the middle chroma of all of it: a colour that fills so much, and is hardly stronger than the rest,
# is what the picture is painted in, a field of ripe grass, a violet dusk, and nobody greys it. Of colours put in too loud
# those that only pass landscapes by as little have 4.5 times.
KEYNOTE, HARDLY_STRONGER = 0.2, 2.0
# C* that half of a picture passes, and of the loudest's, what another hue has: all of it is loud, and no colour is excused by
# a louder one. Of 146 paintings and photographs passed through a brush the most is 45, of a lawn; made garish, 54.
ALL_LOUD, OTHERS_TOO = 50.0, 0.5
GROUND = 0.06  # of the picture: so much of it is a ground, and less a patch that may well shout
GREEN_FROM, GREEN_TO = 112.0, 172.0  # degrees of hue: the findings on green say it
# Small marks that nothing gathers below; of 112 untouched one has more, the next 0.43.
BUSY = Limits("above", 0.46, 1.3)
# Detail at the bottom beside the focal zone, and beside all above, that is busy whatever the size of its marks; and the
# small marks that it has at least, so that a dim one is left alone. Of 193 untouched pictures one is, a field of stones.
BUSY_BESIDE, BUSY_TO_REST, SOME_MARKS = 0.95, 2.45, 0.15
# L* and C*ab that the tones and colours of the lowest quarter span, its drawing, what that is of the L* that the whole picture
# spans, and the water in it. Of 206 pictures noted by readers those that reach all four span 20 at most, and readers called all
# but one of them empty, flat, even or dull, two close in value from top to foot among them; of four that span 23 to 30 they
# said so of none, and denied it of two: a hedge lay across, seed heads stood there. The next have 5.1 drawn in it, the next
# painting 0.51 of the whole. Water may lie bare.
EVEN_GROUND = Limits("below", 21.0)
DRAWN, OF_THE_WHOLE, STILL_WATER = 4.9, 0.5, 0.5
FOG = 20.0  # L* that all of it spans: of so little readers speak of the whole and not of what lies in front; our choice
TILT = Limits("above", 2.2, 4.0)  # degrees: a photograph taken askew by 2° must not make a fault of a level sea
PLAIN_WATER = 0.68  # agreement of the strips: a fainter edge is to watch at most; another photograph may lose it
ALIKE = Limits("above", 0.875, 0.92)  # correlation of left and right; highest of 76 landscapes 0.85: no reader saw it


def patchy(masses: Masses) -> bool:
    """Whether blotches lie all over big shapes that still hold, and leave no place quiet."""
    return masses.kept * masses.scraps_everywhere > PATCHY


def judge_scattered(masses: Masses) -> Level:
    """Values scattered like confetti, or blotches all over."""
    no_rest = masses.scraps_everywhere > SCRAPS_QUIETEST
    if no_rest and masses.kept < KEPT_REWORK and masses.scraps > SCRAPS_REWORK:
        return "rework"
    everywhere = masses.kept < KEPT_EVERYWHERE and masses.scraps_everywhere > SCRAPS_EVERYWHERE
    if everywhere or patchy(masses):
        return "watch"
    scattered = no_rest and masses.kept < KEPT_SCATTERED and masses.scraps > SCRAPS_WATCH
    tiles = masses.kept < KEPT_TILES and masses.scraps > SCRAPS_TILES and masses.scraps_everywhere > TILES_EVERYWHERE
    return "watch" if (scattered or tiles) and masses.colour_apart < TOLD_BY_COLOUR else "holds"


def judge_flecks(detail: Detail) -> Level:
    """Equal flecks everywhere."""
    if detail.quietest <= QUIETEST_WATCH or detail.same_marks <= SAME_MARKS or detail.breadth >= PATCHES:
        return "holds"
    return "rework" if detail.evenness > EVEN_REWORK else "watch"


def judge_outlines(outlines: Outlines, by_limits: ByLimits = OUTLINES.level) -> Level:
    """Shapes drawn round with dark lines."""
    return "holds" if outlines.one_way > ONE_WAY else by_limits(outlines.drawn)


def judge_hard_edges(edges: Edges, by_limits: ByLimits = SOFT.level) -> Level:
    """Edges hard all over."""
    soft = edges.softness + softer(edges)
    few = edges.seen < SOME_EDGES or (edges.seen < MANY_EDGES and soft >= KNIFE)
    return "holds" if few else by_limits(soft)


def judge_ruled(ruled: Ruled) -> Level:
    """Edges of masses that run straight and equally sharp."""
    return RULED.level(ruled.share)


def cut_straight(edges: Edges, ruled: Ruled, by_limits: ByLimits = SOFT.level) -> bool:
    """Whether the edges are at fault for running ruled, and not, or less so, for being hard all over."""
    return LEVELS.index(judge_ruled(ruled)) > LEVELS.index(judge_hard_edges(edges, by_limits))


def softer(edges: Edges) -> float:
    """How much softer edges are than their softness tells: what melts among them, and what of their steps takes time."""
    return MELTS * edges.lost + EASED * (1 - edges.at_once)


def judge_closed_darks(darks: ClosedDarks, by_limits: ByLimits = CLOSED.level) -> Level:
    """Heavy darks with nothing in them."""
    level = by_limits(darks.share)
    heavy = darks.heavy > HEAVY and darks.formless > WITHOUT_FORM
    named = heavy or darks.black > BLACK or darks.one_black > ONE_BLACK or quite_closed(darks, by_limits)
    return "watch" if level == "holds" and named else level


def quite_closed(darks: ClosedDarks, by_limits: ByLimits = CLOSED.level) -> bool:
    """Whether so much is as good as black, and nothing to be seen in it, that this alone is heavy."""
    filled_in = darks.share > SOME_CLOSED and darks.share > FILLED_IN * darks.dark_share
    return by_limits(darks.share) != "holds" or darks.largest > CLOSED_ONE or darks.hole > HOLE or filled_in


def darks_seen_as(
    darks: ClosedDarks, by_limits: ByLimits = CLOSED.level
) -> Literal["closed", "near black", "one black", "heavy"]:
    """What darks that are named look like.

    Quite closed, black with a touch or two in it, one black whatever small lights are in it, or dark and without form.
    """
    closed = quite_closed(darks, by_limits)
    if not closed and darks.black <= BLACK:
        return "one black" if darks.one_black > ONE_BLACK else "heavy"
    return "near black" if darks.black > darks.share and by_limits(darks.share) != "rework" else "closed"


def judge_dead_colour(loudest: Loudest, by_limits: ByLimits = DEAD.level) -> Level:
    """Grey all over, without relief."""
    if loudest.farthest_off >= max(FARTHEST_OFF, SPEAKS * loudest.off_one_tone):
        return "holds"
    if one_drab(loudest) and (loudest.strongest >= DEAD_RELIEF or by_limits(loudest.strong) == "holds"):
        return "watch"
    level = "holds" if loudest.strongest >= DEAD_RELIEF else by_limits(loudest.strong)
    return "watch" if level == "rework" and loudest.strongest >= SOME_COLOUR else level


def one_drab(loudest: Loudest) -> bool:
    """Whether all its colour is one dull tone, only lighter and darker."""
    all_one = loudest.off_one_tone < OFF_ONE_TONE and loudest.farthest_off < FARTHEST_OFF
    return all_one and loudest.strong < DRAB


def judge_loudest(
    loudest: Loudest, by_limits: ByLimits = LOUD.level, *, focus: tuple[float, float] | None = None
) -> Level:
    """A garish colour; ``focus`` is the focal place (x, y) as fractions, where one is sure."""
    if GREEN_FROM <= loudest.hue <= GREEN_TO:
        return "holds"
    if focus is not None and loudest.share < SMALL and not at_the_rim(loudest) and not is_raw_spot(loudest):
        away = ((loudest.x - focus[0]) ** 2 + (loudest.y - focus[1]) ** 2) ** 0.5
        if away < LOUD_AT_EYE:
            return "holds"
    level = by_limits(loudest.excess)
    outshone = level != "rework" and loudest.chroma < loudest.strongest - OUTSHONE
    if level == "holds":
        return "watch" if stands_alone(loudest) and not outshone else "holds"
    if loudest.share >= FILLS and loudest.excess >= RAW:
        return "rework"
    outdone = loudest.share >= GROUND and (outshone or loudest.other >= OUTDONE * loudest.chroma)
    keynote = loudest.share >= KEYNOTE and loudest.chroma < HARDLY_STRONGER * loudest.middle
    if (outdone or (level == "watch" and keynote)) and not is_loud_all_over(loudest):
        return "holds"
    if at_the_rim(loudest):
        return "rework"
    if loudest.other >= ANSWERED * loudest.chroma or (is_the_thing(loudest, focus) and not shouts_anywhere(loudest)):
        return "watch" if level == "rework" else level
    return level


def at_the_rim(loudest: Loudest) -> bool:
    """Whether the loudest colour is a spot in the border of the picture."""
    return loudest.share < A_SPOT and loudest.in_border >= AT_THE_RIM


def is_raw_spot(loudest: Loudest) -> bool:
    """Whether the loudest colour is one small thing far beyond what landscapes have: it shouts wherever it stands."""
    return loudest.share < HEARD and loudest.excess >= RAW_SPOT


def shouts_anywhere(loudest: Loudest) -> bool:
    """Whether the loudest colour is so far beyond what landscapes have that it shouts even as what the picture is about."""
    return is_raw_spot(loudest) or loudest.excess >= EVEN_A_THING


def is_loud_all_over(loudest: Loudest) -> bool:
    """Whether half of the picture is loud, in more hues than one."""
    return loudest.middle >= ALL_LOUD and loudest.other >= OTHERS_TOO * loudest.chroma


def stands_alone(loudest: Loudest) -> bool:
    """Whether the loudest colour is that of one small thing, and the picture has nothing like it."""
    # It is the excess times the root of how many times its hue elsewhere it is.
    return loudest.alone >= STANDS_ALONE and (loudest.alone / loudest.excess) ** 2 >= LOUDER


def is_the_thing(loudest: Loudest, focus: tuple[float, float] | None) -> bool:
    """Whether the loudest colour is what the eye goes to; ``focus`` is that place (x, y) as fractions, where one is sure."""
    if focus is None or loudest.share >= A_THING:
        return False
    height, width = loudest.mask.shape
    x, y = focus
    rows = slice(max(int((y - ABOUT_IT) * height), 0), int((y + ABOUT_IT) * height) + 1)
    columns = slice(max(int((x - ABOUT_IT) * width), 0), int((x + ABOUT_IT) * width) + 1)
    return float(loudest.mask[rows, columns].mean()) >= OF_THE_PLACE


def judge_bare_sky(found: BareSky, by_limits: ByLimits = BARE.level, *, sky_share: float = 0.0) -> Level:
    """A sky of bare white over land that has nothing nearly so light; ``sky_share`` is how much of the picture is sky."""
    if found.lights > AS_LIGHT or found.middle > LIGHT_PICTURE or found.share < BARE_OF_SKY * sky_share:
        return "holds"
    return by_limits(found.share)


def judge_even_foreground(found: EvenForeground, by_limits: ByLimits = EVEN_GROUND.level) -> Level:
    """A foreground of nearly one tone and colour with little in it, in a picture that has contrast elsewhere."""
    alike = found.spread < OF_THE_WHOLE * found.above_and_below
    if found.drawn > DRAWN or not alike or found.above_and_below < FOG or found.water > STILL_WATER:
        return "holds"
    return by_limits(found.spread)


def judge_busy_foreground(detail: Detail, by_limits: ByLimits = BUSY.level) -> Level:
    """A foreground busier than the subject."""
    level = by_limits(detail.foreground_marks)
    busy = detail.foreground >= BUSY_BESIDE and detail.foreground_to_rest >= BUSY_TO_REST
    return "watch" if level == "holds" and busy and detail.foreground_marks >= SOME_MARKS else level


def judge_water(water: WaterLevel, by_limits: ByLimits = TILT.level) -> Level:
    """Water that runs downhill."""
    level = by_limits(abs(water.tilt)) if water.found else "holds"
    return "watch" if level == "rework" and water.agreement < PLAIN_WATER else level


def judge_symmetry(symmetry: Symmetry, by_limits: ByLimits = ALIKE.level) -> Level:
    """Two halves alike."""
    return by_limits(symmetry.likeness)
