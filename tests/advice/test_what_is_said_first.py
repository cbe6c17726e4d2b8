"""What a review says first: what works, then the one thing that holds the picture back most, then the rest."""

from dataclasses import replace

import numpy as np
import pytest
from measured import measured, with_others
from one_picture import one_of_lab

from critique.advice.advise import advise
from critique.advice.change import Change
from critique.advice.change_kinds import all_change_kinds
from critique.advice.eye_findings import busy_foreground, focal_place, middle_subject
from critique.advice.finding import Finding
from critique.advice.gravity import beyond, gravest_first
from critique.advice.hints import HINTS, LEAST, likeliest
from critique.advice.hints import told as hint_told
from critique.advice.judging import Case
from critique.advice.kinds import all_kinds, kind_named
from critique.advice.norms import read_norms
from critique.advice.praise import what_works
from critique.advice.suggestion import Suggestion
from critique.advice.value_ends import HEAVY_FIRST, closed_darks
from critique.advice.value_findings import SMALL_TOLD, masses, picture_in_key, small_lights, small_lights_chance
from critique.advice.verdict import PORTRAIT, may_be_left, verdict
from critique.measures.eye_judging import leads_alone, surely_settles
from critique.measures.rivals import Standing
from critique.picture.picture import Picture

SIZE = (240, 360)  # px


def found(kind: str, level: str, figure: float) -> Finding:
    return Finding(kind, kind_named(kind).title, level, "Said.", figure, "", "")  # type: ignore[arg-type]


def painted(values: np.ndarray, *, warm: float = 4.0) -> Picture:
    """A picture of values 0–10 (height, width), with a little of a painter's unevenness."""
    rng = np.random.default_rng(3)
    light = np.clip(values * 10 + rng.normal(0, 1.5, values.shape), 0, 100)
    return one_of_lab(np.stack([light, np.full_like(light, 1.0), np.full_like(light, warm)], -1))


def case_of(picture: Picture) -> Case:
    return Case.of(picture, measured(picture), read_norms())


def wood_and_sky() -> np.ndarray:
    """A dark wood in the left half, a light sky beside it over a ground in the middle."""
    values = np.full(SIZE, 8.5)
    values[170:] = 4.5
    values[:, :170] = 1.5
    return values


def test_rework_is_told_before_watch_and_the_farthest_beyond_its_limit_first() -> None:
    watch, rework = kind_named("edge_pull").limits.watch, kind_named("edge_pull").limits.rework
    findings = [
        found("green_relief", "watch", 0.0),
        found("edge_pull", "watch", watch + 0.01),
        found("closed_darks", "watch", 0.2),
        found("edge_pull", "rework", rework + 1.5),
        found("value_range", "rework", kind_named("value_range").limits.rework - 0.01),
    ]
    told = [(finding.kind, finding.level) for finding in gravest_first(findings)]
    assert told[0] == ("edge_pull", "rework") and told[1] == ("value_range", "rework")
    assert [level for _, level in told] == ["rework", "rework", "watch", "watch", "watch"]
    assert told.index(("closed_darks", "watch")) < told.index(("edge_pull", "watch"))


def test_what_is_to_watch_comes_in_the_order_in_which_a_teacher_speaks_of_it() -> None:
    """Of 24 readings of pictures with closed darks to watch 19 would mend those first; of 36 with a lean none did."""
    findings = [found(name, "watch", 50.0) for name in ("colour_cast", "dead_colour", "edge_pull", "closed_darks")]
    assert gravest_first(findings)[0].kind == "closed_darks"
    assert gravest_first(findings)[1].kind == "edge_pull"
    assert gravest_first([findings[3], found("colour_cast", "rework", 50.0)])[0].kind == "colour_cast"


def test_a_line_in_the_middle_is_told_after_closed_darks_however_surely_it_lies_there() -> None:
    """Of six readings of pictures with such a line none would mend it first; of eight with closed darks six would."""
    findings = (found("halving", "rework", 0.5), found("closed_darks", "watch", 0.2))
    assert [finding.kind for finding in gravest_first(findings)] == ["closed_darks", "halving"]
    told = verdict(case_of(painted(wood_and_sky())), findings, ())
    assert "Look once more at its closed darks" in told[0] and not told[-1].startswith("First step")


def test_a_line_in_the_middle_is_told_before_what_nobody_mends_first() -> None:
    """Of a plain cut in two by its line, to rework, the page said: nothing grave, if anything its light blue."""
    findings = (found("loudest_colour", "watch", 1.1), found("halving", "rework", 0.5))
    assert [finding.kind for finding in gravest_first(findings)] == ["halving", "loudest_colour"]
    told = verdict(case_of(painted(wood_and_sky())), findings, ())
    # That it is what is to mend readers denied of three pictures of which both signed that the line halves them.
    assert "Look once more at where its line lies" in told[0] and told[-1].startswith("If it isn't meant so")


def test_what_no_teacher_mends_first_is_not_named_first() -> None:
    """Of 36 readings of 18 pictures in which it was, none would have mended it first, and 13 nothing at all."""
    case = case_of(painted(wood_and_sky() + 2.5))
    slight = (found("loudest_colour", "watch", 1.1), found("outlines", "watch", 0.7))
    told = verdict(case, slight[:1], ())
    assert told[0].endswith("Nothing that is measured here weighs much; what may be looked at once more is told below.")
    assert len(told) == PORTRAIT + 1 and not any("loudest" in sentence for sentence in told)
    drawn = verdict(case, slight, ())[0]  # thick ones round every hill weighed a great deal to all their readers
    assert drawn.endswith("What may be looked at once more is told below.") and "weighs" not in drawn
    assert "Nothing grave" not in verdict(case, (found("closed_darks", "watch", 0.2),), ())[0]


def test_a_picture_may_be_left_where_nothing_is_open_but_what_no_teacher_mends_first() -> None:
    slight = (
        found("outlines", "watch", 0.7),
        found("loudest_colour", "watch", 1.1),
        found("focal_place", "holds", 0.5),
    )
    assert may_be_left(slight) and may_be_left(())
    assert not may_be_left((*slight, found("closed_darks", "watch", 0.2)))
    assert not may_be_left((found("outlines", "rework", 2.0),))


def test_a_finding_farther_beyond_its_limit_weighs_more_in_either_direction() -> None:
    assert beyond(found("closed_darks", "watch", 0.2)) > beyond(found("closed_darks", "watch", 0.1))
    assert beyond(found("value_range", "rework", 1.0)) > beyond(found("value_range", "rework", 3.1))
    assert beyond(found("value_range", "watch", 4.0)) > 0


def test_the_dark_and_the_light_are_praised_where_they_lie() -> None:
    first = what_works(case_of(painted(wood_and_sky())), frozenset())[0]
    assert "left half" in first and "light" in first
    mirrored = what_works(case_of(painted(wood_and_sky()[:, ::-1])), frozenset())[0]
    assert "right half" in mirrored


def test_what_is_criticised_is_not_praised() -> None:
    case = case_of(painted(wood_and_sky()))
    assert any("in the left half" in reason for reason in what_works(case, frozenset()))
    assert not any("in the left half" in reason for reason in what_works(case, {"value_masses", "value_range"}))


def test_a_verdict_says_what_works_then_what_holds_back_then_what_it_is() -> None:
    picture = painted(np.maximum(wood_and_sky(), 2.5))  # a black wood is told to be closed, and not praised
    told = advise(picture, measured(picture)).verdict
    assert told[0].startswith("What works: ")
    assert told[PORTRAIT].startswith(
        ("A dark picture", "A light picture", "A picture in the middle key", "A picture more")
    )
    assert not any(sentence.startswith("What works") for sentence in told[1:])


@pytest.mark.parametrize("value", [0.0, 5.0, 10.0])
def test_a_blank_is_praised_for_nothing(value: float) -> None:
    assert what_works(case_of(painted(np.full(SIZE, value), warm=0.0)), frozenset()) == []


def test_where_nothing_is_offered_the_first_step_is_that_of_the_gravest_finding() -> None:
    case = case_of(painted(wood_and_sky()))
    findings = (found("closed_darks", "watch", 0.1), found("edge_pull", "rework", 3.0))
    told = verdict(case, findings, ())
    assert told[-1] == f"First step: {kind_named('edge_pull').step}."


def test_where_nothing_is_open_the_last_word_is_one_small_thing_or_none() -> None:
    case = case_of(painted(wood_and_sky()))
    small = hint_told(case, ())
    assert small.startswith("At most, ") and verdict(case, (), ())[-1] == small
    calm = case_of(painted(np.full(SIZE, 5.0) + np.linspace(-2.5, 4.0, SIZE[0])[:, None]))
    told = verdict(calm, (), ())
    assert not hint_told(calm, ()) and told[0].endswith("holds it back.") and len(told) == PORTRAIT + 1


def test_darks_are_opened_at_most_where_much_of_them_is_one_mass() -> None:
    """As much of a picture in dark stems apart from each other has none that is heavy."""
    hint = next(hint for hint in HINTS if hint.id == "darks")
    mass, stems = np.full(SIZE, 7.0), np.full(SIZE, 7.0)
    mass[:, :84] = 1.5
    for left in range(10, SIZE[1] - 20, 56):
        stems[:, left : left + 14] = 1.5
    assert (stems < 2).mean() >= 0.95 * (mass < 2).mean()
    assert hint.chance(case_of(painted(mass))) >= LEAST > hint.chance(case_of(painted(stems)))


def lone_light() -> np.ndarray:
    """A light thing on a dark ground, and nothing else."""
    values = np.full(SIZE, 3.0)
    values[150:170, 240:262] = 9.0
    return values


def test_where_the_eye_settles_is_told_only_where_it_is_sure() -> None:
    """Readers denied a place that hardly stands out from all else, as in an empty sky."""
    kind = kind_named("focal_place")
    case = case_of(painted(lone_light()))
    told = focal_place(case, kind)
    assert told is not None and "on the right" in told.text
    eye = case.measures.eyepath
    faint = replace(eye, dominance=0.5)
    assert eye.claimed and surely_settles(faint) is None
    assert focal_place(replace(case, measures=with_others(case.measures, eyepath=faint)), kind) is None
    below = replace(eye, focus=replace(eye.focus, strength=0.66), dominance=1.12)
    assert surely_settles(below) is not None  # so much that other sentences may go by it, but none is given to it
    assert focal_place(replace(case, measures=with_others(case.measures, eyepath=below)), kind) is None
    assert leads_alone(eye) is not None and leads_alone(replace(eye, dominance=0.9)) is None


def test_what_no_teacher_mends_first_is_not_the_first_step_where_a_likelier_thing_is_to_be_said() -> None:
    """Readers of a lean to blue: to hold it beside a grey card is a photographer's errand, no step in painting."""
    case = case_of(painted(wood_and_sky()))
    lean = (found("colour_cast", "watch", 14.0),)
    told = verdict(case, lean, ())
    assert "the lean of its colours" not in told[0] and told[-1] == hint_told(case, lean) != ""
    grave = (found("colour_cast", "rework", 40.0),)
    assert verdict(case, grave, ())[-1] == f"First step: {kind_named('colour_cast').step}."


def test_the_colour_that_holds_a_picture_back_is_named() -> None:
    """A reader wrote of a first step: does not say which colour."""
    lab = np.full((*SIZE, 3), (70.0, -2.0, -8.0))
    lab[160:] = (80.0, 5.0, 80.0)
    case = case_of(one_of_lab(lab))
    told = verdict(case, (found("loudest_colour", "rework", 1.4),), ())[0]
    assert "its loudest colour (the gold)" in told and told.count("gold") == 1  # and not praised before


def test_of_what_is_only_to_watch_one_thing_is_named_and_of_grave_ones_two() -> None:
    case = case_of(painted(wood_and_sky()))
    watch = [found(name, "watch", 0.5) for name in ("closed_darks", "value_range", "edge_pull")]
    told = verdict(case, watch, ())[0]
    assert "Look once more at its closed darks (in the left half) before it goes out." in told
    grave = [found(name, "rework", 3.0) for name in ("value_range", "edge_pull", "hard_edges")]
    told = verdict(case, [*grave, *watch[:1]], ())[0]
    named = [name for name in ("values reach", "pulls at an edge", "hard edges", "closed darks") if name in told]
    assert len(named) == 2 and "closed darks" not in named


def test_what_is_said_to_hold_back_is_what_the_first_step_mends() -> None:
    case = case_of(painted(wood_and_sky()))
    grave = (found("hard_edges", "rework", 0.6), found("halving", "rework", 0.5))
    offered = (Suggestion("move the division", "Said.", (), Change("move_division", np.copy)),)
    told = verdict(case, grave, offered)
    assert "What holds it back most is its hard edges" in told[0]
    assert told[-1].startswith(f"First step: {kind_named('hard_edges').step}; then ")
    assert verdict(case, grave[1:], offered)[-1].startswith("If it isn't meant so, a first step: move")
    slight = (found("halving", "watch", 0.5),)  # a line near the middle, which no teacher mends first
    assert verdict(case, slight, offered)[-1] == hint_told(case, slight) != ""
    mends = next(kind.id for kind in all_change_kinds() if "loudest_colour" in kind.mends)
    loud, quieted = (found("loudest_colour", "watch", 1.1),), (Suggestion("quiet it", "", (), Change(mends, np.copy)),)
    assert verdict(case, loud, quieted)[-1] == hint_told(case, loud)
    darks = found("closed_darks", "watch", 0.2)  # the step is of what the first sentence names, not of the colour
    assert verdict(case, (*loud, darks), quieted)[-1].endswith(f"a first step: {kind_named('closed_darks').step}.")
    calm = case_of(painted(np.full(SIZE, 5.0) + np.linspace(-2.5, 4.0, SIZE[0])[:, None]))
    assert len(verdict(calm, loud, quieted)) == PORTRAIT + 1


def test_of_equals_that_is_told_first_which_the_aim_mends() -> None:
    case = case_of(painted(wood_and_sky()))
    equals = (found("value_range", "watch", 4.0), found("green_strength", "watch", 0.04))
    mended = {kind: verdict(case, equals, (), (kind,))[0] for kind in ("value_range", "green_strength")}
    assert "values reach" in mended["value_range"] and "greens" not in mended["value_range"]
    assert "greens" in mended["green_strength"] and "values reach" not in mended["green_strength"]
    likelier = (*equals, found("closed_darks", "watch", 0.2))
    assert "closed darks" in verdict(case, likelier, (), ("green_strength",))[0]


def test_every_finding_that_can_be_open_has_a_first_step() -> None:
    always_hold = {"small_lights", "middle_subject", "side_weight", "green_neighbours", "focal_place", "colour_run"}
    assert {kind.id for kind in all_kinds() if not kind.step} == always_hold


def test_a_picture_with_a_wide_light_sky_is_not_called_dark() -> None:
    values = np.full(SIZE, 1.5)
    values[:100] = 8.5
    assert case_of(painted(values)).measures.values.key == "low"
    assert picture_in_key(case_of(painted(values)).measures.values) == "A picture more dark than light"
    values[:] = 2.0
    values[:20] = 8.5
    assert picture_in_key(case_of(painted(values)).measures.values) == "A dark picture"


def marks(share: float) -> np.ndarray:
    """A ground in the middle key, with light and dark marks over so much of its width."""
    rng = np.random.default_rng(11)
    values = np.full(SIZE, 5.0)
    coarse = np.kron(rng.choice([-1.6, 0.0, 1.6], (SIZE[0] // 6, SIZE[1] // 6)), np.ones((6, 6)))
    values[:, : round(share * SIZE[1])] += coarse[:, : round(share * SIZE[1])]
    return values


def test_small_lights_and_darks_are_spoken_of_where_they_leave_nothing_quiet_and_not_where_they_do() -> None:
    kind = kind_named("small_lights")
    quiet = case_of(painted(marks(0.4)))
    assert small_lights_chance(quiet) < SMALL_TOLD and small_lights(quiet, kind) is None
    assert small_lights_chance(case_of(painted(marks(1.0)))) > small_lights_chance(quiet)


def test_many_small_lights_are_criticised_where_colour_tells_no_big_shapes_apart_and_else_remarked_on():
    case = case_of(painted(marks(0.4)))
    for apart, level in ((4.0, "watch"), (14.0, "holds")):
        broken = replace(case.measures.masses, kept=0.5, scraps=6.0, scraps_everywhere=4.0, colour_apart=apart)
        told = replace(case, measures=with_others(case.measures, masses=broken))
        assert masses(told, kind_named("value_masses")).level == level
        assert (small_lights(told, kind_named("small_lights")) is None) == (level == "watch")


def test_where_small_marks_break_a_picture_is_said_only_where_one_half_has_clearly_more() -> None:
    spots = np.kron(np.random.default_rng(3).uniform(-3.0, 3.0, (SIZE[0] // 8, SIZE[1] // 8)), np.ones((8, 8)))
    for upper, place in ((1.0, "into the larger shapes. Join"), (0.5, "most of all in the lower half. Join")):
        strength = np.where(np.arange(SIZE[0]) < SIZE[0] // 2, upper, 1.0)[:, None]
        told = masses(case_of(painted(5.0 + strength * spots)), kind_named("value_masses"))
        assert told.level == "watch" and place in told.text


def test_a_lone_stump_in_the_middle_is_remarked_on_and_the_same_to_one_side_is_not() -> None:
    def stump(x: float) -> Case:
        values = np.full(SIZE, 8.0)
        values[150:] = 5.0
        at = round(x * SIZE[1])
        values[165:205, at - 8 : at + 8] = 1.0
        return case_of(painted(values))

    kind = kind_named("middle_subject")
    middle = middle_subject(stump(0.5), kind)
    assert middle is not None and middle.level == "holds" and "middle" in middle.text
    assert middle_subject(stump(0.3), kind) is None
    case = stump(0.5)
    eye = replace(case.measures.eyepath, rivalry=1.1, rivals=(Standing(0.1, 0.3, 1.1), Standing(0.9, 0.3, 1.1)))
    with_wrecks = replace(case, measures=with_others(case.measures, eyepath=eye))  # at either side, as strong
    assert middle_subject(with_wrecks, kind) is None


def test_a_small_dark_headland_is_told_with_the_big_shapes_and_a_speck_is_not() -> None:
    kind = kind_named("value_masses")
    values = np.full(SIZE, 8.5)
    values[130:] = 5.5
    values[100:150, 240:310] = 1.0
    assert "a smaller dark one" in masses(case_of(painted(values)), kind).text
    values[100:150, 240:310] = 5.5
    values[120:126, 240:248] = 1.0
    assert "small dark" not in masses(case_of(painted(values)), kind).text


def test_what_a_teacher_might_say_at_most_is_the_likeliest_of_what_is_there() -> None:
    case = case_of(painted(wood_and_sky()))
    chances = {hint.id: hint.chance(case) for hint in HINTS}
    assert all(0 < chance < 1 for chance in chances.values())
    made = (found("side_weight", "holds", 1.0), found("small_lights", "holds", 1.0))
    best = likeliest(case, made)
    assert best is not None and best.id == max(chances.keys() - {"middle_subject"}, key=chances.__getitem__)
    assert hint_told(case, made) == f"At most, {best.text(case)}."
    assert verdict(case, made, ())[-1] == hint_told(case, made)


def test_a_small_thing_is_said_only_where_its_finding_was_made() -> None:
    case = case_of(painted(wood_and_sky()))
    best = likeliest(case, ())
    assert best is None or not best.remark
    assert "At most" not in verdict(case, (found("closed_darks", "watch", 0.2),), ())[0]


def test_a_verdict_speaks_of_an_open_finding_as_a_teacher_would() -> None:
    case = case_of(painted(wood_and_sky()))
    told = verdict(case, (found("green_strength", "rework", 0.3), found("closed_darks", "watch", 0.2)), ())[0]
    assert "What holds it back most is how strong its greens are." in told


def test_warm_far_hills_are_told_before_a_busy_foreground() -> None:
    """Of seven pictures with such hills two readers would mend them first in two, and one in another."""
    findings = (found("busy_foreground", "watch", 1.5), found("land_distance", "watch", 1.0))
    assert gravest_first(findings)[0].kind == "land_distance"


def test_a_heavy_dark_is_told_after_scattered_values_and_a_closed_one_before() -> None:
    """Of 17 pictures with a heavy dark a reader who was asked nothing else would mend it first in some four."""
    closed, masses = found("closed_darks", "watch", 0.2), found("value_masses", "watch", 0.4)
    heavy = replace(closed, said_first=HEAVY_FIRST)
    assert [one.kind for one in gravest_first((closed, masses))] == ["closed_darks", "value_masses"]
    assert [one.kind for one in gravest_first((heavy, masses))] == ["value_masses", "closed_darks"]
    assert "Look once more at its closed darks" in verdict(case_of(painted(wood_and_sky())), (heavy,), ())[0]


@pytest.mark.parametrize(("lightness", "colour", "first"), [(19, (-8.0, 9.0), HEAVY_FIRST), (9, (0.0, 0.0), None)])
def test_only_a_dark_that_is_neither_closed_nor_black_is_told_later(
    lightness: float, colour: tuple[float, float], first: float | None
) -> None:
    lab = np.zeros((426, 640, 3), dtype=np.float32)
    lab[..., 0] = 70.0
    lab[213:, :213] = (lightness, *colour)
    told = closed_darks(case_of(one_of_lab(lab)), kind_named("closed_darks"))
    assert told is not None and told.level == "watch" and told.said_first == first


@pytest.mark.parametrize(
    ("marks", "text"), [(0.62, "2.1 times as busy as all that lies above"), (3.0, "busiest place above")]
)
def test_how_busy_a_foreground_is_is_told_against_what_its_sentence_compares_it_with(marks: float, text: str) -> None:
    """ "More than the rest of the picture" stood beside "0.9 times as busy as the busiest place above"."""
    case = case_of(painted(wood_and_sky()))
    detail = replace(case.measures.detail, foreground=0.9, foreground_to_rest=2.1, foreground_marks=marks)
    told = busy_foreground(
        replace(case, measures=with_others(case.measures, detail=detail)), kind_named("busy_foreground")
    )
    assert told is not None and text in told.figure_text and told.level == ("watch" if marks < 1 else "rework")
