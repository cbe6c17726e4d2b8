"""The review in a few sentences: what works, what holds the picture back most, and what to do first."""

from critique.advice.finding import Finding
from critique.advice.green_findings import ALMOST_NONE
from critique.advice.judging import Case
from critique.advice.something_there import in_greys, one_colour
from critique.advice.suggestion import Suggestion
from critique.measures.division_judging import halving_fault
from critique.words.aloud import about, strength_word
from critique.words.figures import percent
from critique.words.lists import listed

SMALL_MATTERS = frozenset({"halving", "upright_halves", "near_edge", "green_relief", "green_neighbours", "colour_cast"})
# Kinds of finding for which alone no picture is kept from a wall: common practice, no source.
CARRIES, CARRIES_RANK = 0.7, 40  # of the light and dark in big shapes, and its percentile, from which that is praised
REACHES_RANK = 50  # percentile of the range of values from which it is praised
QUIET_CHROMA = 22.0  # median C* of the greens up to which they are praised for their quiet
MOST_REASONS = 2


def verdict(case: Case, findings: tuple[Finding, ...], suggestions: tuple[Suggestion, ...]) -> tuple[str, ...]:
    """What the picture is and what works in it, what holds it back most, and what to do first."""
    if one_colour(case.picture):
        name = case.measures.families[0].name
        return (f"One colour from edge to edge, {name}: there is nothing here to judge yet.",)
    open_findings = [finding for finding in findings if finding.level != "holds"]
    rework = [finding for finding in open_findings if finding.level == "rework"]
    return (
        _portrait(case),
        _judgement(case, open_findings, rework),
        _first_step(suggestions, open_findings),
    )


def _portrait(case: Case) -> str:
    """What kind of picture this is: its key, its main colours, its green and its line."""
    measures = case.measures
    shares: dict[str, float] = {}
    for family in measures.families:
        shares[family.name] = shares.get(family.name, 0.0) + family.share
    largest = sorted(shares, key=lambda name: -shares[name])[:2]
    colours = listed([f"{name} ({percent(shares[name])})" for name in largest])
    key = {"high": "A light picture", "middle": "A picture in the middle key", "low": "A dark picture"}[
        measures.values.key
    ]
    if in_greys(case.picture):
        return f"{key}, in greys: its colour is not judged."
    reads, colour = measures.reads_as_green.share, measures.greens.area_share
    if max(reads, colour) < ALMOST_NONE:
        climate = ", with almost no green"
    elif reads >= ALMOST_NONE:
        climate = f"; {about(reads)} of it reads as green"
    else:
        climate = f"; {about(colour)} of it has a yellow-green colour"
    return f"{key}, mostly {colours}{climate}."


def _judgement(case: Case, open_findings: list[Finding], rework: list[Finding]) -> str:
    works = _what_works(case, open_findings)
    praise = f"What works: {listed(works)}. " if works else ""
    if not open_findings:
        return f"It holds: {listed(works)}." if works else "It holds: nothing in it asks to be repainted."
    main, *rest = [*rework, *(finding for finding in open_findings if finding.level != "rework")]
    grave = [finding for finding in rework if finding.kind not in SMALL_MATTERS]
    if grave:
        said = f"What holds it back most is its {grave[0].subject}"
        rest = [finding for finding in open_findings if finding is not grave[0]]
    else:
        said = f"Look once more at its {main.subject} before it goes out"
    also = f", then at its {listed([finding.subject for finding in rest])}" if rest and not grave else ""
    if rest and grave:
        also = f"; then look at its {listed([finding.subject for finding in rest])}"
    return f"{praise}{said}{also}."


def _what_works(case: Case, open_findings: list[Finding]) -> list[str]:
    """The best of it, from its own figures and never against a finding."""
    measures, open_kinds = case.measures, {finding.kind for finding in open_findings}
    values, greens, masses = measures.values, measures.greens, measures.masses
    reasons = []
    if "value_masses" not in open_kinds and masses.kept >= CARRIES:
        if (case.percentile("masses.kept") or 0) >= CARRIES_RANK:
            reasons.append("a few big shapes of light and dark carry it")
    if "value_range" not in open_kinds and (case.percentile("values.range") or 0) >= REACHES_RANK:
        reasons.append(f"its values reach from {values.percentiles['p5']:.1f} to {values.percentiles['p95']:.1f}")
    green_open = open_kinds & {"green_strength", "green_area", "green_evenness", "green_cast"}
    if greens.area_share >= ALMOST_NONE and not green_open and greens.median_chroma <= QUIET_CHROMA:
        reasons.append(f"its greens stay {strength_word(greens.median_chroma)}")
    if measures.land_distance.known and "land_distance" not in open_kinds and measures.land_distance.lighter > 1.0:
        reasons.append("its distance lies back")
    if measures.division.present and halving_fault(measures.division) is None:
        if not 0.42 <= measures.division.height <= 0.58:
            reasons.append(f"its line lies well off the middle, at {percent(measures.division.height)} of the height")
    return reasons[:MOST_REASONS]


def _first_step(suggestions: tuple[Suggestion, ...], open_findings: list[Finding]) -> str:
    if not suggestions:
        if not open_findings:
            return "There is nothing here to repaint for the sake of repainting."
        return "No change was found that makes the whole better by its figures: try one on a small study first."
    first = suggestions[0]
    change = next((c for c in first.changes if c.before_text != c.after_text), first.changes[0])
    return (
        f"First step: {first.subject}. Tried on this picture, {change.figure} goes from {change.before_text} to "
        f"{change.after_text}."
    )
