"""What there can be in a painting's folder: where each result lies, and which of its files tell what it was."""

from dataclasses import dataclass

MOST_KEPT = 12  # earlier results of a kind whose pages are kept, some 1.5 MB each; of older ones the line stays
MOST_PHOTOGRAPHS = 3  # the same of straightened photographs: some 5 MB each, with 16 bits a channel 100


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of result. ``kept`` are the files that are set aside before a newer result takes their place.

    A kind without a record is known by the files that its command writes; which of them a newer result takes the place
    of is told by that command.
    """

    id: str
    title: str
    folder: str  # within the painting's, empty for the painting's own
    page: str  # what is opened; empty where that is the folder
    record: str  # what tells one result from another; empty where its files do
    kept: tuple[str, ...] = ()
    more: tuple[tuple[str, str], ...] = ()  # what else there is to open: what it is called, its file
    most_kept: int = MOST_KEPT

    def path(self, name: str) -> str:
        """A file of it, relative to the painting's folder."""
        return f"{self.folder}/{name}" if self.folder else name


KINDS = (
    Kind("review", "Review", "", "report.html", "report.json", ("report.html", "report.json")),
    Kind(
        "plan",
        "Plan",
        "plan",
        "plan.html",
        "plan.json",
        ("plan.html", "sheet.html", "plan.json"),
        (("sheet for the easel", "sheet.html"), ("aim at full size", "aim.png")),
    ),
    Kind("passes", "Passes", "passes", "passes.html", "passes.json", ("passes.html", "passes.json")),
    Kind(
        "comparison",
        "Comparison",
        "comparison",
        "comparison.html",
        "comparison.json",
        ("comparison.html", "comparison.json"),
    ),
    Kind(
        "gallery",
        "Under gallery light",
        "gallery",
        "gallery.html",
        "gallery.json",
        ("gallery.html", "gallery.json"),
    ),
    Kind("palette", "Limited palettes", "palette", "palette.html", "palette.json", ("palette.html", "palette.json")),
    Kind("study", "Sheets to paint from", "study", "study.html", "study.json", ("study.html", "study.json")),
    Kind("straightened", "Straightened photograph", "straightened", "", "", most_kept=MOST_PHOTOGRAPHS),
)


def kind_of(name: str) -> Kind:
    """The kind of that id; raises KeyError for one that there isn't."""
    found = next((kind for kind in KINDS if kind.id == name), None)
    if found is None:
        raise KeyError(name)
    return found
