"""A picture under lamps: its previews are those of its colours, and greens die where they do by measurement."""

import json
from dataclasses import replace

import numpy as np
import pytest
from click.testing import CliRunner
from demo_pictures import demo_path

from critique.cli.main import main
from critique.errors import CritiqueError
from critique.paints.box import box_of
from critique.paints.recipes import toward_word
from critique.perception.cielab import lab_to_srgb8, srgb8_to_lab
from critique.perception.difference import delta_e_2000
from critique.perception.hue import YELLOW_GREEN
from critique.perception.lamps import lab_under
from critique.perception.recovery import recovered
from critique.picture.picture import picture_from_srgb
from critique.picture.read import read_picture
from critique.tasks.gallery import GreensUnder, _strength, between, gallery_of
from critique.tasks.gallery_words import held_in_words, of_greens
from critique.tasks.passage_names import sky_word
from critique.tasks.plan_mixtures import mixtures_of_plan

MEADOW = "tolvesk_01_ostermell_meadow.jpg"


@pytest.fixture(scope="module")
def meadow():
    return gallery_of(read_picture(demo_path(MEADOW)))


@pytest.mark.slow
def test_between_nodes_a_colour_moves_as_it_does_by_itself(meadow):
    codes = meadow.picture.srgb[::40, ::40]
    lab = srgb8_to_lab(codes)
    for one in meadow.lamps:
        exact = lab_under(recovered(lab.reshape(-1, 3)), one.lamp.name).reshape(lab.shape)
        error = delta_e_2000(lab + between(one.offsets, codes), exact)
        assert np.quantile(error, 0.95) < 0.3 and error.max() < 1


def test_greys_stay_grey_under_every_lamp():
    ramp = np.repeat(np.linspace(10, 250, 128).astype(np.uint8)[None, :, None], 3, axis=2).repeat(96, axis=0)
    done = gallery_of(picture_from_srgb(ramp))
    for one in done.lamps:
        assert np.abs(one.preview(ramp).astype(int) - ramp).max() <= 1
        assert one.greens.verdict == "none" and one.mean_shift < 0.1


def test_the_meadow_turns_colder_under_warm_lamps_and_stays_by_north_light(meadow):
    shift = {one.lamp.name: one.mean_shift for one in meadow.lamps}
    assert shift["D75"] < 1 < min(shift["LED-B1"], shift["A"])
    turned = {one.lamp.name: one.greens.turned for one in meadow.lamps}
    assert turned["A"] > 5 and turned["LED-B1"] > 5 and abs(turned["D75"]) < 2
    assert all(one.text and one.shifts[0].difference >= one.shifts[-1].difference for one in meadow.lamps)


@pytest.mark.parametrize(
    ("first", "second", "verdict"),
    [(17, 15.3, "hold"), (40, 36, "hold"), (40, 33, "fade"), (40, 29, "die"), (10, 7.4, "fade"), (6, 4.4, "hold"),
     (40, 52, "glare"), (40, 47, "gain")],
)  # fmt: skip
def test_greens_die_only_where_anyone_sees_it(first, second, verdict):
    # A tenth less chroma at C* 17 is ΔE00 1: below the 2 at which a careful eye sees two patches side by side differ.
    assert _strength(45.0, first, second, 115.0) == verdict


def test_one_colour_is_said_to_turn_once_and_one_way(meadow):
    for one in meadow.lamps:
        green = [
            shift for shift in one.shifts if YELLOW_GREEN.contains(np.asarray(shift.lab)) and shift.difference >= 2
        ]
        assert "They turn" not in one.text or not any(shift.name in one.text for shift in green)
    assert not any(f"toward {way}." in line for line in meadow.verdict for way in ("red", "orange", "purple"))


def test_greens_are_not_said_to_keep_their_strength_beside_one_that_is_named(meadow):
    greens = GreensUnder(0.5, 40.0, 37.2, 120.0, 6.0, "hold")
    assert held_in_words(greens, True) == "All greens taken together lose 7.0 % of chroma."
    assert "keep their strength" not in held_in_words(greens, False)
    assert "keep their strength" in held_in_words(GreensUnder(0.5, 40.0, 38.8, 120.0, 6.0, "hold"), False)
    for one in meadow.lamps:
        assert "toward green" not in one.text and "too little to be seen" not in one.text


def test_a_loss_of_a_seventh_is_told_with_its_lamp_and_its_green(meadow):
    # A seventh of the chroma of a picture that is two thirds green is what the command is run to hear.
    assert _strength(45.0, 22.4, 19.0, 115.0) == "fade"
    halogen = next(number for number, one in enumerate(meadow.lamps) if one.lamp.name == "A")
    lamps = [replace(one, greens=GreensUnder(0.66, 22.4, 22.2, 115.0, 0.0, "hold")) for one in meadow.lamps]
    lamps[halogen] = replace(lamps[halogen], greens=GreensUnder(0.66, 22.4, 19.0, 115.0, 0.0, "fade"))
    first, *rest = of_greens(lamps)
    assert first.startswith("Its greens grow quieter under halogen (2856 K), by 15 % of their chroma")
    named = [one for one in lamps[halogen].shifts if one.name in first]
    assert named and all(YELLOW_GREEN.contains(np.asarray(one.lab)) for one in named)
    assert not any("keep their strength" in line for line in rest)


def test_a_picture_of_sky_and_sea_is_told_what_its_blues_do_and_nothingof_greens(sea):
    verdict = " ".join(sea.verdict)
    worst = max(sea.lamps, key=lambda one: one.mean_shift)
    first = max((one for one in worst.shifts if one.share >= 0.05), key=lambda one: one.difference)
    assert f"{first.name} {first.place}".rstrip() in verdict and "greens" not in verdict
    assert {one.name for one in worst.shifts} & {"blue", "light blue", "grey-blue", "dark blue"}


def test_first_is_said_under_which_lamps_it_keeps_its_look(meadow, sea):
    for picture in (meadow, sea):
        first = picture.verdict[0]
        for one in picture.lamps:
            large = max((shift.difference for shift in one.shifts if shift.share >= 0.05), default=0.0)
            if one.lamp.name == "D75":  # other daylight
                assert "every one" in first or one.lamp.title in first
            if one.mean_shift > 2.5 or large > 4:
                assert "every one" not in first and f"{one.lamp.title} ({one.lamp.kelvin}" not in first, one.lamp.title


def test_colours_are_called_by_painters_words_and_told_apart(meadow, sea):
    for one in (meadow, sea):
        names = [(shift.name, shift.place) for shift in one.lamps[0].shifts]
        assert len(set(names)) == len(names)
        assert not any(name.endswith("ish gray") or "moderate" in name or "grayish" in name for name, _ in names)


def test_a_cream_cloud_is_called_cream_and_not_green(meadow, sea):
    cloud = np.array([78.0, -4.0, 12.0])
    assert YELLOW_GREEN.contains(cloud), "by its colour alone it counts as a green"
    assert sky_word(cloud, "pale grey-green") == "cream"
    for shift in (one for each in (meadow, sea) for one in each.lamps[0].shifts):
        assert shift.place != "of the sky" or sky_word(np.asarray(shift.lab), shift.name) == shift.name


@pytest.fixture(scope="module")
def sea():
    return gallery_of(_striped([(0.5, (66.0, -4.0, -22.0)), (0.5, (38.0, 0.0, -30.0))]))


def _striped(parts):
    """A picture of level stripes, each a share of its height and a CIELAB colour, with a little grain."""
    rng = np.random.default_rng(3)
    lab = np.concatenate([np.tile(np.float32(colour), (round(256 * share), 384, 1)) for share, colour in parts])
    lab[..., 0] += rng.normal(0, 2, lab.shape[:2]).astype(np.float32)
    return picture_from_srgb(lab_to_srgb8(lab))


def test_a_green_turns_toward_blue_or_yellow_and_a_blue_green_may_turn_to_green():
    assert toward_word(118.0, 8.0) == "blue" and toward_word(178.0, -5.0) == "yellow"
    assert toward_word(200.0, -15.0) == "green" and toward_word(120.0, -40.0) == "orange"


@pytest.mark.slow
def test_a_box_gives_its_own_spectra(meadow):
    box = box_of(["PY74", "PG7", "PB29", "PR101"])
    own = gallery_of(meadow.picture, box)
    assert own.mixtures > 5 and own.method != meadow.method
    apart = [abs(a.mean_shift - b.mean_shift) for a, b in zip(own.lamps, meadow.lamps, strict=True)]
    assert max(apart) > 0.1


@pytest.mark.slow
def test_the_command_writes_a_page_with_a_preview_of_each_lamp(tmp_path):
    done = CliRunner().invoke(main, ["gallery", str(demo_path(MEADOW)), "--out", str(tmp_path), "--json"])
    assert done.exit_code == 0, done.output
    record = json.loads(done.output)
    folder = tmp_path / "tolvesk_01_ostermell_meadow" / "gallery"
    assert json.loads((folder / "gallery.json").read_text(encoding="utf-8")) == record
    assert len(record["lamps"]) == len(list((folder / "plates").glob("under_*.png"))) == 5
    html = (folder / "gallery.html").read_text(encoding="utf-8")
    assert html.count('class="part lamp"') == 5 and "CAT16" in html


def test_a_plan_is_found_in_its_own_folder_and_in_the_paintings(tmp_path):
    parts = [{"paint": "titanium white", "parts": 4}, {"paint": "ultramarine blue", "parts": 1}]
    passage = {"recipe": {"parts": parts, "target_lab": [70, 0, -25]}}
    own = tmp_path / "plan"
    own.mkdir()
    (own / "plan.json").write_text(json.dumps({"passages": {"passages": [passage]}}), encoding="utf-8")
    assert [one.amounts for one in mixtures_of_plan(tmp_path)] == [one.amounts for one in mixtures_of_plan(own)] != []


def test_a_folder_without_a_plan_is_refused(tmp_path):
    with pytest.raises(CritiqueError, match="holds no plan"):
        mixtures_of_plan(tmp_path)


def test_a_picture_that_no_lamp_moves_is_not_said_to_change_most_under_one():
    """White paper keeps its look under all: a lamp by which it changes most would speak against that."""
    done = gallery_of(picture_from_srgb(np.full((60, 80, 3), 240, np.uint8), "paper.png"))
    assert done.verdict == ("It keeps its look under every one of these lamps.",)
    still = "None of its colours moves as far as an eye would notice on the way from daylight."
    assert {one.text for one in done.lamps} == {still}


def test_a_lamp_that_moves_colours_by_more_than_a_step_does_not_keep_the_look():
    """A step of colour is just seen side by side: a picture that moves two keeps no look, and is said to move them."""
    codes = np.empty((60, 80, 3), np.uint8)
    codes[:25], codes[25:45], codes[45:] = (170, 200, 230), (110, 130, 60), (215, 120, 40)
    done = gallery_of(picture_from_srgb(codes, "field.png"))
    told = {one.lamp.name: one for one in done.lamps}
    keeps = [line for line in done.verdict if line.startswith("It keeps its look")]
    assert told["D75"].mean_shift <= 1 < told["LED-B1"].mean_shift
    assert keeps == ["It keeps its look under north light."]
