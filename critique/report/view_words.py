"""What the page says of the photograph that a painting was found in: the crop, its light, what the camera did."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain, repeat

from critique.advice.kinds import kind_named
from critique.photograph.canvas_other import SIDES
from critique.photograph.corners import ALL, written_corners
from critique.photograph.fitness import amiss, said
from critique.photograph.light_words import light_said
from critique.photograph.limits import CLEAR_SEEN, LEAST_MEGAPIXELS
from critique.photograph.righting import Lighting
from critique.picture.picture import Picture
from critique.picture.view import View
from critique.report.commands import PLACE_IT, review_command, with_greys
from critique.report.plates.canvas import canvas_plate
from critique.report.plates.plate import Plate
from critique.words.figures import percent
from critique.words.lists import listed

CORNERS = "--corners"  # the option that says where a canvas lies
CARD = (
    "Photograph it again with a grey or white card beside the canvas, or name anything grey that the photograph shows; "
    "a chart of 24 patches in it is found by --chart find."
)
CROPPED = (
    "Judged is the painting alone, cropped out of the photograph {found} and seen square on. If the outline is wrong, "
    "give its corners; if the whole file is the painting, say --whole."
)
CUT_OFF = (
    "The canvas may be cut off by the photograph's edge. Nothing was cropped, so what else the photograph shows may "
    "have been judged with it. Photograph all of the canvas, give its corners, or say --whole if all of it is painting."
)
UNSURE = (
    "This photograph may show more than the painting, but where the canvas ends isn't sure. Nothing was cropped, so "
    "wall and frame may have been judged with it. If the outline is the canvas, run the command; else change its "
    "corners, or say --whole."
)
GUESSED = (
    "This photograph may show more than the painting, but where the canvas ends can't be told. Nothing was cropped, so "
    "wall and frame may have been judged with it. The outline is a mere guess that may cut into the painting: find "
    "the four corners by eye, clockwise from the painting's upper left, and put them into the command, each as how "
    "far from the photograph's left, then from its top, 0 to 1; or say --whole."
)
OTHER = (
    "Two pictures seem to hang here. {done} is {first}. If you mean the other one, {by_eye}give its corners and review "
    "it by itself:"
)
BY_EYE = "find it by eye, "
FLATTEN = (
    "What is said of its lights, its colours and its edges counts that white as paint. Crop those parts off, or fill "
    "them with the colour that belongs there, and review it again."
)


@dataclass(frozen=True, slots=True)
class Said:
    """A few sentences, and the command that does what they speak of; empty where there is none."""

    text: str
    command: str = ""


@dataclass(frozen=True, slots=True)
class ViewTold:
    """The photograph with its outline, and what is said beside it; ``first`` where it belongs above the picture."""

    plate: Plate | None
    first: bool
    said: tuple[Said, ...]


def view_told(picture: Picture, light_decides: tuple[str, ...] = (), again: str = "") -> ViewTold | None:
    """What to tell of the photograph; None where the file is all painting, and nothing is amiss with it.

    ``light_decides`` are the ids of the findings that another light could change, ``again`` the command that reviews
    the file again.
    """
    view = picture.view
    clear = transparent_said(picture)
    cleared = (Said(f"{clear[0].upper()}{clear[1:]}. {FLATTEN}"),) if clear else ()
    if view is None:
        return ViewTold(None, True, cleared) if cleared else None
    again = again or review_command(picture.file)
    told = (
        *cleared,
        *_other(view, again),
        *_crop(view, again),
        *_light(picture, view, again, light_decides),
        *_fitness(picture, view, again),
    )
    if not told:
        return None
    plate = canvas_plate(view) if len(told) > len(cleared) else None
    return ViewTold(plate, bool(cleared) or view.how == "unsure" or view.other is not None, told)


@dataclass(frozen=True, slots=True)
class CropTold:
    """The photograph that one of several pictures was cropped out of, and a line on it."""

    name: str
    plate: Plate | None
    text: str


def crops_told(pictures: Iterable[Picture], corners: Iterable[str] = ()) -> tuple[CropTold, ...]:
    """For a page of several pictures: what was cropped, and what perhaps should have been.

    ``corners`` are the options that say where the canvas of each lies, where they aren't ``--corners``.
    """
    told = []
    for picture, option in _each(pictures, corners):
        view, said = picture.view, file_said(picture, option)
        if said:
            plate = canvas_plate(view) if view is not None and view.photographed else None
            told.append(CropTold(picture.file, plate, "; ".join(said)))
    return tuple(told)


def crops_said(pictures: Iterable[Picture], corners: Iterable[str] = ()) -> list[str]:
    """The same in lines for a terminal."""
    return [f"{one.file}: {text}" for one, option in _each(pictures, corners) for text in file_said(one, option)]


def file_said(picture: Picture, corners: str = CORNERS) -> list[str]:
    """What of one file was judged, where that isn't all of it as it is, in lines for a terminal."""
    return [text for text in (transparent_said(picture), crop_said(picture, corners)) if text]


def _each(pictures: Iterable[Picture], corners: Iterable[str]) -> Iterable[tuple[Picture, str]]:
    return zip(pictures, chain(corners, repeat(CORNERS)), strict=False)


def transparent_said(picture: Picture) -> str:
    """How much of the file was transparent and what it was taken for, in a line; empty where it is next to nothing."""
    if picture.transparent < CLEAR_SEEN:
        return ""
    return f"transparent parts of the file ({percent(picture.transparent)} of it) were taken as white"


def crop_said(picture: Picture, corners: str = CORNERS) -> str:
    """The crop in a line for a terminal; empty where the file is all painting."""
    view = picture.view
    if view is None or not view.photographed:
        return ""
    beside = "" if view.other is None else f"; two pictures seem to hang there: {SIDES[view.other.first]}"
    if view.how == "unsure":
        perhaps = beside and f"{beside} may be the canvas"
        return (
            f"not cropped: where the canvas ends isn't sure ({corners} says where, --whole that it is all painting)"
            f"{perhaps}"
        )
    judged = beside and f"{beside} is judged ({corners} says where the other is)"
    return f"cropped to the canvas, {'at the corners given' if view.how == 'given' else 'as it was found'}{judged}"


def photograph_said(picture: Picture, light_decides: tuple[str, ...] = ()) -> tuple[str, ...]:
    """All of it in lines for a terminal; none where the file is all painting and nothing was asked or is amiss."""
    view, clear = picture.view, transparent_said(picture)
    lines = [clear] if clear else []
    if view is None:
        return tuple(lines)
    lines += [crop_said(picture)] if view.photographed else []
    lines += light_said(view.light) if view.light is not None else ()
    if light_decides:
        lines.append(_decided(view.light, light_decides))
    lines += [said(one) for one in amiss(view.fitness, photographed=view.photographed)]
    return tuple(lines)


def _decided(light: Lighting | None, decided: tuple[str, ...]) -> str:
    if light is None or light.neutral is None:
        return f"another light could change: {_titles(decided)} (--grey names a place that is grey)"
    if light.brightness:
        return f"had the canvas more or less light than the {_reference(light)}, that could change: {_titles(decided)}"
    return f"a lighter or darker photograph could change: {_titles(decided)} (--card with --card-value tells which)"


def _reference(light: Lighting) -> str:
    return "card" if light.how in ("spot", "card") else "chart"


def _other(view: View, again: str) -> tuple[Said, ...]:
    if view.other is None:
        return ()
    done = "Judged" if view.cropped else "Outlined"
    text = OTHER.format(done=done, first=SIDES[view.other.first], by_eye="" if view.other.likely else BY_EYE)
    return (Said(text, f"{again} --corners {written_corners(view.other.corners if view.other.likely else None)}"),)


def _crop(view: View, again: str) -> tuple[Said, ...]:
    command = f"{again} --corners {written_corners(view.corners if view.likely else None)}"
    if view.cropped:
        found = "at the corners that you gave" if view.how == "given" else "as it was found"
        return (Said(CROPPED.format(found=found), command),)
    if view.how != "unsure":
        return ()
    if view.corners == ALL:
        return (Said(CUT_OFF, f"{again} --whole"),)
    return (Said(UNSURE if view.likely else GUESSED, command),)


def _light(picture: Picture, view: View, again: str, light_decides: tuple[str, ...]) -> tuple[Said, ...]:
    done = light_said(view.light) if view.light is not None else ()
    told = [Said(" ".join(done))] if done else []
    if view.photographed and (view.light is None or view.light.neutral is None):
        changed = (
            f"Another lamp could change what is said of {_titles(light_decides)}"
            if light_decides
            else "Another lamp would shift the colours a little, but none of the findings"
        )
        text = f"No grey was named to tell the light by, so the colours are as photographed. {changed}. {CARD}"
        command = with_greys(again, ["--grey"], [picture])
        told.append(Said(f"{text} {PLACE_IT}" if command else text, command))
    elif light_decides and view.light is not None:
        told.append(Said(_brightness(view.light, light_decides)))
    return tuple(told)


def _brightness(light: Lighting, decided: tuple[str, ...]) -> str:
    """What a little more or less light would change, of a photograph whose colour is put right."""
    if not light.brightness:
        return (
            f"How bright the canvas was isn't known: a lighter or darker photograph could change what is said of "
            f"{_titles(decided)}. A card whose value you know tells which is right: --card with --card-value."
        )
    by = _reference(light)
    if light.reference_light is None:
        shared = f"if the canvas got as much light as the {by}"
    else:
        shared = "if the light falls off as the surround shows"
    return (
        f"Its brightness is right {shared}: a tenth more or less could change what "
        f"is said of {_titles(decided)}. Stand the {by} close beside the canvas."
    )


def _fitness(picture: Picture, view: View, again: str) -> tuple[Said, ...]:
    wrong = amiss(view.fitness, photographed=view.photographed)
    if not wrong:
        if not view.photographed:
            return ()
        # The foot of the page says of a small file that accents may be lost: no word of "large enough" then.
        small = picture.original_width * picture.original_height < LEAST_MEGAPIXELS * 1e6
        # Where everything in it is soft, nobody can tell whether the camera did that.
        guessed = any(one.subject == "sharpness" and one.trust == "a guess" for one in view.fitness)
        good = [*([] if guessed else ["sharp"]), "clean", *([] if small else ["large enough"])]
        return (Said(f"The photograph is {listed(good)}."),)
    uneven = any(one.subject == "falloff" for one in wrong)
    can_even = uneven and view.light is not None and view.light.evened == "left"
    text = " ".join(said(one) for one in wrong)
    if can_even:
        if view.light is not None and view.light.one_wall:
            return (Said(f"{text} The wall is even enough to even it by:", f"{again} --even"),)
        return (
            Said(
                f"{text} To even it by what lies around the canvas, and see whether it looks right:", f"{again} --even"
            ),
        )
    return (Said(text),)


def _titles(kinds: tuple[str, ...]) -> str:
    return listed([kind_named(kind).called("holds") for kind in kinds])
